/**
 * Completion of words in bash, zsh and fish: a short script for each, which asks this program (`complete`, not in the help)
 * what may stand next. It knows from the commands themselves, so that no list is kept twice.
 */
import { Argument, type Command, type Option } from 'commander';
import { translateHelp } from '../../wording/command.ts';
import type { CommandWorld } from './command-world.ts';
import { EXIT, type ExitStatus } from './exit-status.ts';

const SHELLS = ['bash', 'zsh', 'fish'] as const;

/** What a value may be where only the file system knows: the shell's own completion of files follows. */
const FILES = ':files';

const SCRIPTS: Readonly<Record<(typeof SHELLS)[number], string>> = {
  bash: `_twinplumb() {
  local line word="\${COMP_WORDS[COMP_CWORD]}"
  COMPREPLY=()
  while IFS=$'\\t' read -r line _; do
    if [ "$line" = '${FILES}' ]; then compopt -o filenames 2>/dev/null; COMPREPLY+=($(compgen -f -- "$word"))
    else COMPREPLY+=("$line"); fi
  done < <(twinplumb complete -- "\${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
}
complete -F _twinplumb twinplumb
`,
  zsh: `#compdef twinplumb
_twinplumb() {
  local line files=0
  local -a found
  while IFS=$'\\t' read -r line about; do
    if [[ "$line" == '${FILES}' ]]; then files=1; else found+=("\${line//:/\\\\:}\${about:+:$about}"); fi
  done < <(twinplumb complete -- "\${(@)words[2,CURRENT]}" 2>/dev/null)
  (( \${#found} )) && _describe 'twinplumb' found
  (( files )) && _files
}
if [ "$funcstack[1]" = '_twinplumb' ]; then _twinplumb "$@"; else compdef _twinplumb twinplumb; fi
`,
  fish: `function __twinplumb_complete
  set -l tokens (commandline -opc) (commandline -ct)
  for line in (twinplumb complete -- $tokens[2..] 2>/dev/null)
    if test "$line" = '${FILES}'; __fish_complete_path (commandline -ct); else; echo $line; end
  end
end
complete -c twinplumb -f -a '(__twinplumb_complete)'
`,
};

export function describeCompletion(program: Command, { terminal }: CommandWorld, finish: (status: ExitStatus) => void) {
  program
    .command('completion')
    .description(translateHelp('completion'))
    .addArgument(new Argument('<shell>', translateHelp('completion.shell')).choices(SHELLS))
    .action((shell: (typeof SHELLS)[number]) => {
      terminal.print(SCRIPTS[shell]);
      finish(EXIT.measured);
    });
  program
    .command('complete', { hidden: true })
    .argument('[words...]')
    .allowUnknownOption()
    .action((words: readonly string[]) => {
      terminal.print(
        listCompletions(program, words)
          .map((line) => `${line}\n`)
          .join(''),
      );
      finish(EXIT.measured);
    });
}

/** What may stand in place of the last of `words`, one candidate a line, with a tab and its description where it has one. */
export function listCompletions(program: Command, words: readonly string[]): string[] {
  const [last = '', ...before] = words.toReversed();
  let command = program;
  let awaited: Option | undefined;
  for (const word of before.toReversed()) {
    const option = word.startsWith('-')
      ? optionsOf(command).find(({ long, short }) => word === long || word === short)
      : undefined;
    if (option) awaited = option.required || option.optional ? option : undefined;
    else if (awaited) awaited = awaited.variadic ? awaited : undefined;
    else command = command.commands.find((below) => below.name() === word) ?? command;
  }
  const fitting = (names: readonly (readonly [string, string])[]) =>
    names.filter(([name]) => name.startsWith(last)).map(([name, about]) => (about === '' ? name : `${name}\t${about}`));
  if (awaited && !last.startsWith('-')) {
    return awaited.argChoices ? fitting(awaited.argChoices.map((choice) => [choice, ''])) : [FILES];
  }
  if (last.startsWith('-')) {
    return fitting(optionsOf(command).flatMap(({ long, description }) => (long ? [[long, description] as const] : [])));
  }
  const below = command.createHelp().visibleCommands(command);
  if (below.length > 0) return fitting(below.map((each) => [each.name(), each.description()]));
  const [argument] = command.registeredArguments;
  return argument?.argChoices ? fitting(argument.argChoices.map((choice) => [choice, ''])) : [FILES];
}

function optionsOf(command: Command): readonly Option[] {
  const help = command.createHelp();
  return [...help.visibleOptions(command), ...help.visibleGlobalOptions(command)];
}
