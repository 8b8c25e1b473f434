/** Which eye sees which picture, in words; the marks that count, and weak displaced copies of a picture. */
import type { Eye } from '../kernel/eye.ts';
import type { MeasuredReading, ReadingStray } from '../record/reading.ts';
import { openTopic } from './catalogue.ts';
import messages from './en/reading.json' with { type: 'json' };
import { decimalsForUncertainty, formatFigures, formatNumber } from './numbers.ts';

const { has, translate } = openTopic(messages);

type Assignment = MeasuredReading['eyes']['assignment'];

export function formatAssignment(assignment: Assignment): string {
  return translate(`eyes.${assignment}`);
}

type EyeClass = NonNullable<MeasuredReading['eyes']['matrix']>['class'];

/** Null where the assignment has said it already. */
export function formatEyeClass(code: EyeClass): string | null {
  const key = `eye-class.${code}`;
  return has(key) ? translate(key) : null;
}

export function formatAssignmentOfLens(assignment: Exclude<Assignment, 'not-looked-at'>, lens: Eye): string {
  if (assignment === 'undetermined') return translate('lens.undetermined');
  const shown = (assignment === 'correct') === (lens === 'left') ? 'left' : 'right';
  return translate(shown === lens ? 'lens.right' : 'lens.wrong', { shown });
}

/** "46 of 47 left-eye marks, 48 of 48 right-eye marks". */
export function formatMarks(marks: MeasuredReading['marks']): string {
  return translate('marks', marks);
}

/** Half a percent of the height is nothing that a mask could be set to. */
const MIN_IH = 0.005;

/** Whose copy, how strong, where, and how far it reaches beyond; percent of the picture height, as seen from the audience. */
export function formatStray({ eye, offset_ih: [x, y], strength_pct, side, beyond_ih }: ReadingStray): string {
  const decimals = decimalsForUncertainty(2 * strength_pct.u);
  const shifts = [
    Math.abs(y) < MIN_IH ? null : formatShift(y, y > 0 ? 'up' : 'down'),
    Math.abs(x) < MIN_IH ? null : formatShift(x, x > 0 ? 'right' : 'left'),
  ].filter((shift) => shift !== null);
  const [first, second] = shifts;
  return translate('stray', {
    eye,
    strength: formatNumber(strength_pct.value, decimals),
    doubt: formatNumber(2 * strength_pct.u, decimals),
    place: second === undefined ? first : translate('and', { first, second }),
    beyond: beyond_ih >= MIN_IH ? formatFigures(100 * beyond_ih) : undefined,
    side,
  });
}

function formatShift(ih: number, way: string): string {
  return translate('stray.shift', { amount: formatFigures(Math.abs(100 * ih)), way });
}
