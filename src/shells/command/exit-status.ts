import type { Values } from '../../wording/catalogue.ts';
import { type CommandKey, translateCommand } from '../../wording/command.ts';

/** Exit status of the command, after sysexits.h where it has a number for it. */
export const EXIT = {
  measured: 0,
  /** The photographs allow no honest answer. */
  refused: 2,
  /** Measured, and what `--fail-on` names is so. */
  failed: 3,
  /** Wrong usage: options, the house file, a place that cannot be written to. */
  usage: 64,
  /** Something that was kept, or handed over, is not what it was: EX_DATAERR. */
  unsound: 65,
  /** What was asked for could not be written: EX_IOERR. */
  output: 74,
  /** A fault of ours. */
  fault: 70,
} as const;

export type ExitStatus = (typeof EXIT)[keyof typeof EXIT];

/** What the person at the keyboard can put right: said in one line, without a trace. */
export class UsageError extends Error {}

export function wrongUsage(key: CommandKey, values?: Values): UsageError {
  return new UsageError(translateCommand(key, values));
}

/** Throws UsageError for a number outside the range of its option. */
export function requireRange(option: string, value: number | undefined, min: number, max: number): void {
  if (value !== undefined && !(value >= min && value <= max)) {
    throw wrongUsage('range', { option, min: String(min), max: String(max), value: String(value) });
  }
}

/** The disk is full, or nobody takes what is printed. */
export class OutputError extends Error {}

/** A record or a photograph is not what was kept. */
export class UnsoundError extends Error {}

/** A file-system error about a place that the user named becomes a usage error; anything else stays what it is. */
export function blameNamedPlace(error: unknown, key: CommandKey, place: string): unknown {
  const code = (error as NodeJS.ErrnoException).code;
  return code === undefined || !/^E[A-Z0-9]+$/.test(code)
    ? error
    : wrongUsage('with-system-code', { message: translateCommand(key, { place }), code });
}
