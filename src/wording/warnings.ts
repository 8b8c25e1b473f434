/** What did not forbid the measurement but should be known. One sentence each. */
import { type Facts, withNumber } from './facts.ts';

const WARNINGS: Readonly<Record<string, (facts: Facts) => string>> = {
  'some-marks-clipped': (f) =>
    `Some marks are burnt out${withNumber(f, 'clipped', ' (', ')')} and were left out; expose a little less next time.`,
  'marks-missing': (f) =>
    `Not every mark was found${withNumber(f, 'missing', ' (', ' missing)')}: something covers the picture or it is cut off.`,
  'coverage-poor': (f) =>
    `The marks found cover only part of the picture${withNumber(f, 'coverage_pct', ' (', ' %)', 3)}, so the corners are less certain.`,
  'steadiness-unknown': () =>
    'The ghosts are too faint to tell whether camera or film moved between the photographs; a second pair would show it.',
  'camera-crept': (f) =>
    `Camera or film crept a little between the photographs${withNumber(f, 'moved_px', ' (', ' px)')}; lock the tripod for the next pair.`,
  'house-assumed': () => 'No house file was given: the seats are assumed and millimetres on the screen are not known.',
};

export const WARNING_CODES: readonly string[] = Object.keys(WARNINGS);

/** Throws on an unknown code, as `translateRefusal` does. */
export function translateWarning(code: string, facts: Facts): string {
  const wording = WARNINGS[code];
  if (!wording) throw new RangeError(`no wording for the warning "${code}"`);
  return wording(facts);
}
