/** Every command that does something, with its whole name: `measure`, `logbook add`. */
import type { Command } from 'commander';

export interface NamedCommand {
  readonly name: string;
  readonly command: Command;
}

export function listCommands(program: Command, above = ''): NamedCommand[] {
  return program
    .createHelp()
    .visibleCommands(program)
    .flatMap((command) => {
      const name = `${above}${command.name()}`;
      return command.commands.length > 0 ? listCommands(command, `${name} `) : [{ name, command }];
    });
}
