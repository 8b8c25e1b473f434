/** The advised turns as steps: which are done, which comes next, and what a turn is called. */
import type { Round, TurnMade } from '../../../../contract/workspace.ts';
import type { HouseAdjustment } from '../../../../record/house-adjustments.ts';
import type { MeasuredReading, ReadingTrialTurn, ReadingTurn } from '../../../../record/reading.ts';

export interface Step {
  readonly turn: ReadingTurn | ReadingTrialTurn;
  readonly isTrial: boolean;
  /** What was noted as made; null while it is to be done. */
  readonly made: TurnMade | null;
}

export function listSteps({ turns, trial_turns }: MeasuredReading, { turns_made }: Round): Step[] {
  const byOrder = <T extends { order: number }>(list: readonly T[]) => list.toSorted((a, b) => a.order - b.order);
  const advised = turns.length > 0 ? byOrder(turns) : byOrder(trial_turns);
  return advised.map((turn) => ({
    turn,
    isTrial: turns.length === 0,
    made: turns_made?.find(({ adjustment }) => adjustment === turn.adjustment) ?? null,
  }));
}

export function nextStep(steps: readonly Step[]): Step | undefined {
  return steps.find(({ made }) => made === null);
}

/** As the advice says it. */
function asAdvised({ turn }: Step): TurnMade {
  return { adjustment: turn.adjustment, direction: turn.direction, turns: turn.turns };
}

/** What is noted once `steps` have been made as advised, besides what was noted before. */
export function noteSteps(noted: readonly TurnMade[] | null, steps: readonly Step[]): TurnMade[] {
  const before = (noted ?? []).filter(({ adjustment }) => !steps.some(({ turn }) => turn.adjustment === adjustment));
  return [...before, ...steps.map(asAdvised)];
}

/** Whether a note says another amount or way than the advice. */
export function differsFromAdvice({ turn, made }: Step): boolean {
  return made !== null && (made.direction !== turn.direction || Math.abs(made.turns - turn.turns) > 1e-6);
}

export function isByHand(turn: ReadingTurn | ReadingTrialTurn): turn is ReadingTurn & { degrees: object } {
  return 'degrees' in turn && turn.degrees !== null;
}

/** Amount to go past the end first, where the play asks for it. */
export function overshootOf(turn: ReadingTurn | ReadingTrialTurn): number {
  return 'approach' in turn ? (turn.approach?.overshoot_turns ?? 0) : 0;
}

export function signedTurns({ direction, turns }: Pick<TurnMade, 'direction' | 'turns'>): number {
  return direction === 'clockwise' ? turns : -turns;
}

/** "on top of the attachment above the upper port" of "upper screw, on top of the attachment above the upper port". */
export function placeInLabel(label: string): string {
  const name = label.split(/[,;(]/)[0] ?? '';
  return label.slice(name.length).replace(/^[\s,;(]+|[\s)]+$/g, '');
}

/** Amounts of a turn as a hand copies them: whole turns and a fraction, and back from what is typed. */

interface SplitAmount {
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

/** What is typed about turns that were made, adjustment by adjustment, and what it comes to. */

export interface NoteLine {
  readonly adjustment: string;
  readonly label: string;
  readonly isByHand: boolean;
  readonly direction: TurnMade['direction'];
  /** Empty where it was not turned. */
  readonly amount: string;
}

const DEGREES_PER_TURN = 360;

/** A line for each adjustment of the house, and for what is noted already. */
export function makeLines(adjustments: readonly HouseAdjustment[], noted: readonly TurnMade[]): NoteLine[] {
  return adjustments.map((adjustment) => {
    const made = noted.find((turn) => turn.adjustment === adjustment.id);
    const isByHand = 'range_deg' in adjustment;
    return {
      adjustment: adjustment.id,
      label: adjustment.label,
      isByHand,
      direction: made?.direction ?? 'clockwise',
      amount: made === undefined ? '' : isByHand ? writeDegrees(made.turns) : writeTurns(made.turns),
    };
  });
}

function writeDegrees(turns: number): string {
  return String(Number((DEGREES_PER_TURN * turns).toPrecision(4)));
}

/** Undefined for an empty line, null for one that cannot be read. */
export function readLine({ adjustment, isByHand, direction, amount }: NoteLine): TurnMade | null | undefined {
  if (amount.trim() === '') return undefined;
  const typed = parseTurns(amount.replace(/\s*°\s*$/, ''));
  if (typed === null) return null;
  return { adjustment, direction, turns: isByHand ? typed / DEGREES_PER_TURN : typed };
}

/** Null while a line cannot be read. */
export function readLines(lines: readonly NoteLine[]): TurnMade[] | null {
  const read = lines.map(readLine);
  if (read.some((turn) => turn === null)) return null;
  return read.filter((turn) => turn !== undefined && turn !== null);
}
