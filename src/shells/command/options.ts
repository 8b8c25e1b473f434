/** Options that several commands have, declared once; how their values are read, and their defaults. Loads no room's work. */
import { InvalidArgumentError, Option } from 'commander';
import { DEFAULT_ASPECT } from '../../kernel/aspect.ts';
import { PAPERS } from '../../report/html/style.ts';

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
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(text)) throw new InvalidArgumentError('A number is needed, such as 2.35.');
  return Number(text);
}

export function parseWhole(text: string): number {
  const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
  if (!Number.isSafeInteger(value)) throw new InvalidArgumentError('A whole number is needed, such as 1744.');
  return value;
}

/** `value`: one photograph, or as many as there are (`photos...`). */
export const leftOption = (value = 'photo') =>
  new Option(`--left <${value}>`, 'photograph taken through the LEFT lens of the glasses');
export const rightOption = (value = 'photo') =>
  new Option(`--right <${value}>`, 'photograph taken through the RIGHT lens of the glasses');

export const closingOption = () =>
  new Option('--closing <photo>', 'photograph through the LEFT lens again, taken last: shows that nothing moved');

/** `more`: what is taken from it, or what holds without it. */
export const houseOption = (more = '') => new Option('--house <file>', `room and machine facts (JSON)${more}`);

export const aspectOption = (defaults = "the house's, otherwise 2.35") =>
  new Option('--aspect <ratio>', `picture width over height of the target; ${defaults}`).argParser(parseDecimal);

/** `what`: what is printed. */
export const jsonOption = (what: string) => new Option('--json', `print ${what} as one JSON object`);

export const reportOption = () =>
  new Option('--report <file>', 'also write a report: HTML, or PDF where the name ends in .pdf');

export const paperOption = () =>
  new Option('--paper <paper>', 'page size of a PDF report').choices(PAPERS).default('a4');
