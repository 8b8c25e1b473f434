/** Options that several commands have, declared once; how their values are read, and their defaults. Loads no room's work. */
import { InvalidArgumentError, Option } from 'commander';
import { DEFAULT_ASPECT } from '../../kernel/aspect.ts';
import { PAPERS } from '../../report/html/style.ts';
import { type HelpKey, translateCommand, translateHelp } from '../../wording/command.ts';

/** A test compares them with what the rooms do. */
export const DEFAULTS = {
  aspect: DEFAULT_ASPECT,
  height_px: 1744,
  /** For `--two-up` without a value: septum and frame line alike. */
  centreToCentre_in: 0.375,
  upperEye: 'right',
  demoReport: 'demo-report/report.html',
  /** Of the turns of a null search: a scale read by eye, at the rim of a mount. An assumption of ours. */
  doubt_deg: 0.5,
} as const;

/** Plain decimals only, so that a typing error is not measured with. */
export function parseDecimal(text: string): number {
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(text)) throw new InvalidArgumentError(translateCommand('number-needed'));
  return Number(text);
}

export function parseWhole(text: string): number {
  const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
  if (!Number.isSafeInteger(value)) throw new InvalidArgumentError(translateCommand('whole-number-needed'));
  return value;
}

/** An option whose value is one of `choices`, or several of them where its flags end in dots. */
export function choiceOption(flags: string, key: HelpKey, choices: readonly string[]): Option {
  const option = new Option(flags, translateHelp(key)).choices(choices);
  return option.argParser((value: string, before: unknown) => {
    if (!choices.includes(value)) {
      throw new InvalidArgumentError(translateCommand('one-of', { choices: choices.join(', ') }));
    }
    if (!option.variadic) return value;
    return Array.isArray(before) && before !== option.defaultValue ? [...before, value] : [value];
  });
}

/** `value`: one photograph, or as many as there are (`photos...`). */
export const leftOption = (value = 'photo') => new Option(`--left <${value}>`, translateHelp('left'));
export const rightOption = (value = 'photo') => new Option(`--right <${value}>`, translateHelp('right'));

export const closingOption = () => new Option('--closing <photo>', translateHelp('closing'));

/** `key`: what is taken from it, or what holds without it. */
export const houseOption = (key: HelpKey = 'house') => new Option('--house <file>', translateHelp(key));

export const aspectOption = () => new Option('--aspect <ratio>', translateHelp('aspect')).argParser(parseDecimal);

/** `key`: what is printed. */
export const jsonOption = (key: HelpKey) => new Option('--json', translateHelp(key));

export const reportOption = () => new Option('--report <file>', translateHelp('report'));

export const forceOption = () => new Option('--force', translateHelp('force'));

export const paperOption = () => choiceOption('--paper <paper>', 'paper', PAPERS).default('a4');
