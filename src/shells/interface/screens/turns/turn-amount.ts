/** Amounts of a turn as a hand copies them: whole turns and a fraction, a clock's hand, and back from what is typed. */

export interface SplitAmount {
  readonly whole: number;
  /** Null where the rest is none of the fractions that a hand sets, or nothing. */
  readonly fraction: { readonly numerator: number; readonly denominator: number } | null;
  /** What is over the whole turns. */
  readonly rest: number;
}

/** Simplest first, so that 2/8 is found as 1/4. */
const DENOMINATORS = [2, 3, 4, 6, 8, 12, 16, 32, 64];
const SAME = 1e-6;

/** `turns` positive. */
export function splitTurns(turns: number): SplitAmount {
  const whole = Math.floor(turns + SAME);
  const rest = Math.max(0, turns - whole);
  if (rest < SAME) return { whole, fraction: null, rest: 0 };
  const denominator = DENOMINATORS.find((d) => Math.abs(rest * d - Math.round(rest * d)) < d * SAME);
  return {
    whole,
    rest,
    fraction: denominator === undefined ? null : { numerator: Math.round(rest * denominator), denominator },
  };
}

/** Everybody has a clock in the head: how many minutes past twelve a hand shows that makes one round in twelve hours. */
const CLOCK_MINUTES = 12 * 60;
/** Finer than a quarter of an hour nobody sees it on a screw. */
const CLOCK_STEP = 15;

/** Where the rest of a turn ends on a clock whose hand starts at 12, "1:30"; null where no such hour meets it. */
export function clockHand(signedTurns: number): string | null {
  const rest = signedTurns - Math.trunc(signedTurns + Math.sign(signedTurns) * SAME);
  const minutes = rest * CLOCK_MINUTES;
  const rounded = CLOCK_STEP * Math.round(minutes / CLOCK_STEP);
  if (rounded === 0 || Math.abs(minutes - rounded) > 0.01) return null;
  const past = (rounded + CLOCK_MINUTES) % CLOCK_MINUTES;
  const hour = Math.floor(past / 60);
  return `${hour === 0 ? 12 : hour}:${String(past % 60).padStart(2, '0')}`;
}

const NUMBER = String.raw`\d+(?:[.,]\d+)?`;
const MIXED = new RegExp(`^(?:(${NUMBER})|(?:(\\d+)[ +])?(\\d+) ?[/⁄] ?(\\d+))$`);

/** "1/8", "1 1/2", "0.125" or "0,125" as a number of turns; null for anything else, for nothing and for none. */
export function parseTurns(text: string): number | null {
  const match = MIXED.exec(text.trim().replace(/\s+/g, ' '));
  if (!match) return null;
  const [, decimal, whole = '0', numerator, denominator] = match;
  const turns =
    decimal !== undefined ? Number(decimal.replace(',', '.')) : Number(whole) + Number(numerator) / Number(denominator);
  return Number.isFinite(turns) && turns > 0 ? turns : null;
}

/** As it would be typed: "1 1/8", "0.27". */
export function writeTurns(turns: number): string {
  const { whole, fraction, rest } = splitTurns(turns);
  if (rest === 0) return String(whole);
  if (!fraction) return String(Number(turns.toPrecision(4)));
  return `${whole > 0 ? `${whole} ` : ''}${fraction.numerator}/${fraction.denominator}`;
}

/** Millimetres along a circle of `radius_mm` for a part that is turned by `degrees`: what can be laid off with a strip of tape. */
export function lengthOnCircle_mm(degrees: number, radius_mm: number): number {
  return (degrees * Math.PI * radius_mm) / 180;
}
