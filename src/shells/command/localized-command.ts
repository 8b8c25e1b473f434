/** A command whose help and usage errors come from the catalogue, where the library would say them in its own words. */
import { type Argument, Command, Help, type Option } from 'commander';
import { type CommandKey, translateCommand, translateHelp } from '../../wording/command.ts';

export class LocalizedCommand extends Command {
  constructor(name?: string) {
    super(name);
    this.helpOption('-h, --help', translateHelp('help')).helpCommand(false);
  }

  override createCommand(name?: string): LocalizedCommand {
    return new LocalizedCommand(name);
  }

  override createHelp(): Help {
    return Object.assign(new LocalizedHelp(), this.configureHelp());
  }

  override error(message: string, options?: Parameters<Command['error']>[1]): never {
    return super.error(translateCommand('error', { message: translateUsageError(message, options?.code) }), options);
  }
}

/** What the library says, with the facts in it, and which message of ours says the same. */
const USAGE_ERRORS: Readonly<Record<string, readonly [RegExp, CommandKey]>> = {
  'commander.unknownCommand': [
    /unknown command '(?<name>.*?)'(?:\s*\(Did you mean (?:one of )?(?<like>.*)\?\))?$/s,
    'unknown-command',
  ],
  'commander.unknownOption': [
    /unknown option '(?<name>.*?)'(?:\s*\(Did you mean (?:one of )?(?<like>.*)\?\))?$/s,
    'unknown-option',
  ],
  'commander.missingMandatoryOptionValue': [/option '(?<option>.*?)'/s, 'missing-option'],
  'commander.optionMissingArgument': [/option '(?<option>.*?)'/s, 'missing-value'],
  'commander.missingArgument': [/argument '(?<argument>.*?)'/s, 'missing-argument'],
  'commander.excessArguments': [/Expected (?<expected>\d+) .* got (?<found>\d+)/s, 'excess-arguments'],
  'commander.invalidArgument': [
    /(?:option|value) '(?<option>.*?)' argument '(?<value>.*)' is invalid\. (?<reason>.*)$/s,
    'invalid-value',
  ],
};

function translateUsageError(message: string, code = ''): string {
  const [pattern, key] = USAGE_ERRORS[code] ?? [];
  const facts = pattern?.exec(message)?.groups;
  if (!key || !facts) return message;
  const counts = code === 'commander.excessArguments' && {
    expected: Number(facts.expected),
    found: Number(facts.found),
  };
  return translateCommand(key, { ...facts, ...counts });
}

class LocalizedHelp extends Help {
  override showGlobalOptions = true;

  override styleTitle(title: string): string {
    const keys = {
      'Usage:': 'usage',
      'Arguments:': 'title-arguments',
      'Options:': 'title-options',
      'Global Options:': 'title-global-options',
      'Commands:': 'title-commands',
    } as const;
    const said = title in keys ? translateHelp(keys[title as keyof typeof keys]) : title;
    // Where no colours are wanted the library takes this out again.
    return `\u001b[1m${said}\u001b[22m`;
  }

  override optionDescription({ description, argChoices, defaultValue, presetArg, optional, required }: Option): string {
    return annotate(description, [
      argChoices && translateHelp('choices', { choices: argChoices.join(', ') }),
      defaultValue !== undefined && (required || optional) && translateHelp('default', { value: String(defaultValue) }),
      presetArg !== undefined && optional && translateHelp('preset', { value: String(presetArg) }),
    ]);
  }

  override argumentDescription({ description }: Argument): string {
    return description;
  }
}

function annotate(description: string, notes: readonly (string | false | undefined)[]): string {
  const said = notes.filter((note) => typeof note === 'string');
  return said.length === 0 ? description : `${description} (${said.join('; ')})`;
}
