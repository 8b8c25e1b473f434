/**
 * Answers of checks as further observations, and the check whose answer is worth most.
 *
 *   after an answer:  p(h | answer) ~ p(h) p(answer | h)
 *   gain of a check:  sum over answers  p(answer) * sum over h  p(h | answer) log2( p(h | answer) / p(h) )     (bits)
 *
 * Checks whose gains differ by less than `ALIKE_BITS` are taken as alike, and the one with the least effort and danger
 * is chosen: nobody is sent up a ladder for what a seat in the house tells as well.
 */
import type { CauseCode, CheckCode, Hazard } from './cause-row.ts';

/**
 * The checks: what to do, what can come of it, and how likely each answer is under each cause.
 *
 * The first answer is the usual one, what a house without a fault gives; causes that are not named give it too. The
 * likelihoods are assumptions of ours: they say how well a person sees the difference, not how often it is there.
 */

export interface CheckRow {
  readonly code: CheckCode;
  /** `stray`: it tells nothing between causes, only how a remedy goes. */
  readonly field: 'light' | 'shape' | 'stray';
  readonly answers: readonly string[];
  /** Likelihood of each answer under a cause that changes it. */
  readonly likelihoods: Readonly<Partial<Record<CauseCode, readonly number[]>>>;
  /** From a seat 1, in the booth with hands off 2, hands at the attachment or the film 3, up a ladder 4. */
  readonly effort: 1 | 2 | 3 | 4;
  readonly hazards: readonly Hazard[];
}

/** How often the usual answer comes where nothing changes it. */
const EXPECTED_ANSWER = 0.94;

const CLEAR = [0.05, 0.95];

export const CHECK_ROWS: readonly CheckRow[] = [
  {
    code: 'look-at-screen-without-glasses',
    field: 'light',
    answers: ['both-pictures-upright', 'one-picture-only', 'mirrored', 'upside-down'],
    likelihoods: {
      'picture-missing': [0.04, 0.94, 0.01, 0.01],
      'film-turned-over': [0.04, 0.02, 0.75, 0.19],
    },
    effort: 1,
    hazards: [],
  },
  {
    code: 'look-where-the-ghost-is',
    field: 'light',
    answers: ['alike-everywhere', 'in-one-place', 'growing-to-the-sides'],
    likelihoods: {
      'screen-patch-depolarizes': [0.08, 0.86, 0.06],
      'port-glass-strained': [0.3, 0.08, 0.62],
      'screen-depolarizes': [0.75, 0.1, 0.15],
      'one-path-depolarizes': [0.75, 0.08, 0.17],
    },
    effort: 1,
    hazards: [],
  },
  {
    code: 'roll-glasses-both-ways',
    field: 'light',
    answers: ['least-as-they-are', 'least-elsewhere-for-both', 'least-elsewhere-for-one', 'never-changes'],
    likelihoods: {
      'glasses-tilted': [0.04, 0.92, 0.03, 0.01],
      'both-polarizers-turned': [0.04, 0.92, 0.03, 0.01],
      'projector-polarizer-turned': [0.06, 0.06, 0.87, 0.01],
      'glasses-lens-turned': [0.06, 0.06, 0.87, 0.01],
      'polarizers-missing': [0.04, 0.01, 0.01, 0.94],
      'camera-filters-missing': [0.04, 0.01, 0.01, 0.94],
      'polarization-kinds-mixed': [0.1, 0.02, 0.02, 0.86],
    },
    effort: 1,
    hazards: [],
  },
  {
    code: 'level-the-glasses',
    field: 'light',
    answers: ['ghost-stays', 'ghost-goes'],
    likelihoods: { 'glasses-tilted': CLEAR },
    effort: 1,
    hazards: [],
  },
  {
    code: 'repeat-with-known-glasses',
    field: 'light',
    answers: ['as-before', 'right-then'],
    likelihoods: {
      'glasses-lens-turned': CLEAR,
      'camera-filters-exchanged': CLEAR,
      'camera-filters-missing': CLEAR,
      'polarization-kinds-mixed': [0.15, 0.85],
      'glasses-tilted': [0.3, 0.7],
    },
    effort: 1,
    hazards: [],
  },
  {
    code: 'inspect-camera-filters',
    field: 'light',
    answers: ['they-go-dark', 'they-stay-bright'],
    likelihoods: { 'camera-filters-missing': CLEAR, 'polarization-kinds-mixed': [0.4, 0.6] },
    effort: 1,
    hazards: [],
  },
  {
    code: 'look-through-glasses-backwards',
    field: 'light',
    answers: ['no-better', 'pictures-part'],
    likelihoods: { 'polarization-kinds-mixed': [0.15, 0.85], 'camera-filters-exchanged': [0.3, 0.7] },
    effort: 1,
    hazards: [],
  },
  {
    code: 'look-at-ports-through-glasses',
    field: 'light',
    answers: ['dark-to-the-other-eye', 'dark-to-its-own-eye', 'one-dark-to-neither', 'both-dark-to-neither'],
    likelihoods: {
      'polarizers-exchanged': [0.04, 0.94, 0.01, 0.01],
      'half-frame-threading': [0.94, 0.04, 0.01, 0.01],
      'one-path-depolarizes': [0.15, 0.01, 0.83, 0.01],
      'polarizers-missing': [0.02, 0.01, 0.03, 0.94],
      'polarization-kinds-mixed': [0.15, 0.02, 0.02, 0.81],
      'projector-polarizer-turned': [0.5, 0.01, 0.48, 0.01],
    },
    effort: 2,
    hazards: ['port'],
  },
  {
    code: 'turn-projector-polarizer',
    field: 'light',
    answers: ['least-where-it-stands', 'least-elsewhere-for-both', 'least-elsewhere-for-one'],
    likelihoods: {
      'projector-polarizer-turned': [0.05, 0.03, 0.92],
      'glasses-lens-turned': [0.06, 0.03, 0.91],
      'both-polarizers-turned': [0.05, 0.92, 0.03],
      'glasses-tilted': [0.06, 0.91, 0.03],
    },
    effort: 3,
    hazards: ['projector', 'port'],
  },
  {
    code: 'look-at-film-in-gate',
    field: 'light',
    answers: ['as-the-leader-says', 'turned-over'],
    likelihoods: { 'film-turned-over': CLEAR },
    effort: 3,
    hazards: ['projector', 'film'],
  },
  {
    code: 'look-at-frame-line-in-gate',
    field: 'light',
    answers: ['septum-in-the-middle', 'frame-line-in-the-middle'],
    likelihoods: { 'half-frame-threading': [0.08, 0.92] },
    effort: 3,
    hazards: ['projector', 'film'],
  },
  {
    code: 'compare-with-port-glass-open',
    field: 'light',
    answers: ['ghost-stays', 'ghost-goes'],
    likelihoods: { 'port-glass-strained': CLEAR },
    effort: 3,
    hazards: ['port', 'ladder'],
  },
  {
    code: 'hold-metal-sheet-at-screen',
    field: 'light',
    answers: ['ghost-stays', 'ghost-goes'],
    likelihoods: { 'screen-depolarizes': CLEAR, 'screen-patch-depolarizes': [0.1, 0.9] },
    effort: 4,
    hazards: ['ladder'],
  },
  {
    code: 'measure-path-lengths',
    field: 'shape',
    answers: ['paths-alike', 'paths-differ'],
    likelihoods: { 'path-lengths-differ': [0.08, 0.92] },
    effort: 3,
    hazards: ['projector', 'port'],
  },
  {
    code: 'loosen-mirror-clamps',
    field: 'shape',
    answers: ['shape-stays', 'shape-changes'],
    likelihoods: { 'mirror-strained': [0.08, 0.92], 'mirror-not-flat': [0.4, 0.6] },
    effort: 3,
    hazards: ['projector', 'port'],
  },
  {
    code: 'compare-lens-focal-lengths',
    field: 'shape',
    answers: ['widths-alike', 'widths-differ'],
    likelihoods: { 'lens-elements-differ': [0.08, 0.92] },
    effort: 3,
    hazards: ['projector', 'port'],
  },
  {
    code: 'measure-attachment-squareness',
    field: 'shape',
    answers: ['square', 'not-square'],
    likelihoods: { 'attachment-off-axis': [0.08, 0.92] },
    effort: 3,
    hazards: ['projector', 'port'],
  },
  {
    code: 'watch-stray-while-masking',
    field: 'stray',
    answers: ['stray-darkens-first', 'picture-darkens-too', 'stray-stays'],
    likelihoods: {},
    effort: 3,
    hazards: ['projector', 'port'],
  },
];

/** Likelihood of each answer when all of `causes` are there: whatever one of them spoils is spoilt. */
export function answerLikelihoods(check: CheckRow, causes: readonly CauseCode[]): number[] {
  const others = check.answers.length - 1;
  const usual = check.answers.map((_, k) => (k === 0 ? EXPECTED_ANSWER : (1 - EXPECTED_ANSWER) / others));
  const known = causes.map((code) => check.likelihoods[code]).filter((likelihoods) => likelihoods !== undefined);
  if (known.length === 0) return usual;
  if (known.length === 1) return [...known[0]!];
  const combined = check.answers.map((_, k) =>
    k === 0
      ? known.reduce((product, likelihoods) => product * likelihoods[0]!, 1)
      : 1 - known.reduce((product, likelihoods) => product * (1 - likelihoods[k]!), 1),
  );
  const sum = combined.reduce((a, b) => a + b, 0);
  return combined.map((chance) => chance / sum);
}

export interface CheckAnswer {
  readonly check: CheckCode;
  readonly answer: string;
}

export interface WeightedCodes {
  readonly codes: readonly CauseCode[];
  readonly weight: number;
}

export interface ChosenCheck {
  readonly code: CheckCode;
  readonly gain_bits: number;
}

const ALIKE_BITS = 0.15;
/** A check that tells less than this is not worth the way. */
const MIN_BITS = 0.05;

/** What is known of the hypotheses after the answers. Throws RangeError for an answer that the table does not have. */
export function applyAnswers<H extends WeightedCodes>(hypotheses: readonly H[], answers: readonly CheckAnswer[]): H[] {
  let updated = hypotheses.map((hypothesis) => hypothesis);
  for (const { check, answer } of answers) {
    const row = CHECK_ROWS.find(({ code }) => code === check);
    const index = row?.answers.indexOf(answer) ?? -1;
    if (!row || index < 0) throw new RangeError(`no answer "${answer}" to the check "${check}"`);
    updated = normalise(updated.map((h) => ({ ...h, weight: h.weight * answerLikelihoods(row, h.codes)[index]! })));
  }
  return updated;
}

function normalise<H extends WeightedCodes>(hypotheses: readonly H[]): H[] {
  const sum = hypotheses.reduce((total, { weight }) => total + weight, 0);
  return hypotheses.map((h) => ({ ...h, weight: h.weight / sum }));
}

/** Expected gain of information of a check, bits. */
export function gainOf(check: CheckRow, hypotheses: readonly WeightedCodes[]): number {
  const seen = hypotheses.filter(({ weight }) => weight > 0);
  const likelihoods = seen.map(({ codes }) => answerLikelihoods(check, codes));
  return check.answers.reduce((gain, _, k) => {
    const total = seen.reduce((sum, { weight }, i) => sum + weight * likelihoods[i]![k]!, 0);
    if (total <= 0) return gain;
    return seen.reduce((sum, { weight }, i) => {
      const joint = weight * likelihoods[i]![k]!;
      return joint > 0 ? sum + joint * Math.log2(likelihoods[i]![k]! / total) : sum;
    }, gain);
  }, 0);
}

/** The check that tells most, leaving out those already answered; undefined where none is worth the way. */
export function chooseCheck(
  hypotheses: readonly WeightedCodes[],
  field: CheckRow['field'],
  answered: readonly CheckCode[] = [],
): ChosenCheck | undefined {
  const gains = CHECK_ROWS.filter((row) => row.field === field && !answered.includes(row.code)).map((row) => ({
    row,
    gain_bits: gainOf(row, hypotheses),
  }));
  const largest = Math.max(0, ...gains.map(({ gain_bits }) => gain_bits));
  if (largest < MIN_BITS) return undefined;
  const alike = gains.filter(({ gain_bits }) => gain_bits >= Math.max(MIN_BITS, largest - ALIKE_BITS));
  const easiest = Math.min(...alike.map(({ row }) => row.effort));
  const [best] = alike.filter(({ row }) => row.effort === easiest).toSorted((a, b) => b.gain_bits - a.gain_bits);
  return best && { code: best.row.code, gain_bits: best.gain_bits };
}
