/**
 * Whether turns did what was expected of them.
 *
 *   r = sum_k (e_k m_k / s_k^2) / sum_k (e_k^2 / s_k^2)
 *
 * e the change that the turns made should have brought, m the change that two readings show, s_k the limit of term k:
 * r is the part of the expected change that came, 1 where all is well, below 0 where it went the other way. Its
 * uncertainty has a share of the readings and one of the model: effects known to f_j, turns set by a hand to u_n
 *
 *   u_n^2 = q^2 / 12 + b^2 / 3
 *
 * q the smallest turn that a hand can set: it stands anywhere within plus or minus half of that (rectangular). b the play:
 * a screw that was last left coming from the other side has up to b to take up before the picture follows; b^2 / 3 is the
 * mean square of a loss that lies anywhere from nothing to b (GUM 4.3.7). Assumptions about the hand, not measurements.
 * Covariances between the terms of one reading are left out; they are not recorded.
 */
import { TERMS, type Term, type TermVector } from '../geometry/misalignment.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Travel } from './attachment.ts';
import { changeMisalignment, movePictures, termVector } from './effects.ts';
import type { Lever } from './turns-problem.ts';

const TURNS_VERDICTS = ['as-advised', 'other-direction', 'too-little', 'too-much', 'cannot-tell'] as const;
export type TurnsVerdict = (typeof TURNS_VERDICTS)[number];

export interface LeverTurned {
  readonly lever: Lever;
  /** Clockwise positive. */
  readonly turns: number;
}

export interface TurnsRequest {
  readonly before: Readonly<Record<Term, Measured>>;
  readonly after: Readonly<Record<Term, Measured>>;
  readonly turned: readonly LeverTurned[];
  readonly limits: TermVector;
}

export interface TermChange {
  readonly term: Term;
  readonly expected: Measured;
  readonly found: Measured;
  /** Changed for certain and by half its limit, though the turns were not to change it. */
  readonly isUnexpected: boolean;
}

export interface JudgedTurns {
  readonly verdict: TurnsVerdict;
  /** r; null where nothing was to change. */
  readonly part: Measured | null;
  /** What was to change or did, the strongest first. */
  readonly changes: readonly TermChange[];
}

/** A change below a twentieth of its limit is not worth a line. */
const WORTH_A_LINE = 0.05;
const UNEXPECTED_FROM = 0.5;

/**
 *
 *
 * @example
 * const { verdict } = judgeTurns({ before, after, turned, limits });
 */
export function judgeTurns({ before, after, turned, limits }: TurnsRequest): JudgedTurns {
  const found = changeOfTerms(before, after);
  const effects = turned.map(({ lever, turns }) => ({
    change: changeMisalignment(movePictures(lever.movement, turns)),
    relativeU: Math.hypot(lever.effectU, uncertaintyOfHand(lever.travel) / turns),
  }));
  const sum = (term: Term, of: (v: { change: TermVector; relativeU: number }) => number) =>
    effects.reduce((total, effect) => total + of(effect) * effect.change[term], 0);
  const expected = termVector(Object.fromEntries(TERMS.map((term) => [term, sum(term, () => 1)])));
  const expectedU = (term: Term) => Math.hypot(...effects.map(({ change, relativeU }) => relativeU * change[term]));

  const part = partThatCame(expected, found, limits, effects);
  const changes = TERMS.map((term): TermChange => {
    const wanted = { value: expected[term], u: expectedU(term) };
    const beyond = found[term].value - (part?.value ?? 0) * wanted.value;
    const isCertain = Math.abs(beyond) > CERTAIN * Math.hypot(found[term].u, wanted.u);
    return {
      term,
      expected: wanted,
      found: found[term],
      isUnexpected: isCertain && Math.abs(beyond) > UNEXPECTED_FROM * limits[term],
    };
  });
  const weight = ({ term, expected: e, found: f }: TermChange) =>
    Math.max(Math.abs(e.value), Math.abs(f.value)) / limits[term];
  return {
    verdict: part ? verdictOf(part) : 'cannot-tell',
    part: part && { value: part.value, u: Math.hypot(part.ofReadings, part.ofModel) },
    changes: changes.filter((c) => weight(c) > WORTH_A_LINE).toSorted((a, b) => weight(b) - weight(a)),
  };
}

interface Part {
  readonly value: number;
  readonly ofReadings: number;
  readonly ofModel: number;
}

function partThatCame(
  expected: TermVector,
  found: Readonly<Record<Term, Measured>>,
  limits: TermVector,
  effects: readonly { readonly change: TermVector; readonly relativeU: number }[],
): Part | null {
  const weights = termVector(Object.fromEntries(TERMS.map((term) => [term, expected[term] / limits[term] ** 2])));
  const along = (of: (term: Term) => number) => TERMS.reduce((total, term) => total + weights[term] * of(term), 0);
  const whole = along((term) => expected[term]);
  if (whole === 0) return null;
  return {
    value: along((term) => found[term].value) / whole,
    ofReadings: Math.hypot(...TERMS.map((term) => weights[term] * found[term].u)) / whole,
    ofModel: Math.hypot(...effects.map(({ change, relativeU }) => (relativeU * along((term) => change[term])) / whole)),
  };
}

function verdictOf({ value, ofReadings, ofModel }: Part): TurnsVerdict {
  if (CERTAIN * ofReadings > 1) return 'cannot-tell';
  if (value + 2 * ofReadings < 0) return 'other-direction';
  const off = Math.abs(value - 1);
  // Where the effect is known badly, even nothing would agree with it; half of it must have come to be called so.
  if (off <= 2 * Math.hypot(ofReadings, ofModel)) return off <= 0.5 ? 'as-advised' : 'cannot-tell';
  return value < 1 ? 'too-little' : 'too-much';
}

/**
 * A change counts from three times its uncertainty on: eight terms are looked at together, and the chance that chance
 * makes any of them pass is then 2 %; with two it would be a third.
 */
const CERTAIN = 3;

/** After minus before; both readings stand by themselves, so their variances add. */
function changeOfTerms(before: TurnsRequest['before'], after: TurnsRequest['after']): Record<Term, Measured> {
  return Object.fromEntries(
    TERMS.map((term) => [
      term,
      { value: after[term].value - before[term].value, u: Math.hypot(after[term].u, before[term].u) },
    ]),
  ) as Record<Term, Measured>;
}

/** Standard uncertainty, in turns, of a turn that a hand has set. */
function uncertaintyOfHand({ smallest, backlash }: Pick<Travel, 'smallest' | 'backlash'>): number {
  return Math.hypot(smallest / Math.sqrt(12), backlash / Math.sqrt(3));
}
