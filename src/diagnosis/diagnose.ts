/**
 * What can explain the findings: causes ordered by how well they explain what was measured, each with its evidence, and
 * the one check that tells most.
 *
 * The light (eyes, ghosts) and the pictures' shape are weighed apart: no fault of the table changes both, but for half
 * a frame, which the light's weighing looks at with the vertical offset. A cause is `undecided` below `DECIDED_FROM`:
 * what was measured does not tell it from others, and the text has to say so.
 */
import { predictHalfFrameOffset } from '../geometry/film-frame.ts';
import { fieldOfTerms, type Misalignment, type Term, type TermVector } from '../geometry/misalignment.ts';
import { EYES, type Eye, otherEye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import { type Eyes, invertRatio } from '../light/eyes.ts';
import type { CrosstalkSurvey } from '../light/survey-crosstalk.ts';
import type { Finding } from '../limits/judge.ts';
import { type FindingCode, limitTerms, TOLERANCES } from '../limits/tolerances.ts';
import {
  type DiagnosedReading,
  type EvidenceItem,
  explainedByLight,
  explainedByShape,
  type ReadingWithEyes,
  listLightEvidence,
  listShapeEvidence,
  listStrayEvidence,
} from './cause-evidence.ts';
import type { CauseCode, CheckCode, Hazard, ShapeTerm, Way } from './cause-row.ts';
import {
  applyAnswers,
  CHECK_ROWS,
  type CheckAnswer,
  type ChosenCheck,
  chooseCheck,
  type WeightedCodes,
} from './choose-check.ts';
import { type Fault, LIGHT_FAULTS, type Node } from './forecast-light.ts';
import {
  type Hypothesis,
  type LightObservations,
  lightPosterior,
  SHAPE_FAULTS,
  type ShapeFault,
  shapePosterior,
} from './posterior.ts';

export interface Cause {
  readonly code: CauseCode;
  /** Of its being among what is wrong, under the priors of the table. */
  readonly probability: number;
  readonly undecided: boolean;
  /** Findings outside their limit that it can be behind. */
  readonly explains: readonly FindingCode[];
  readonly evidence: readonly EvidenceItem[];
  /** The check that tells whether it is this one. */
  readonly check: CheckCode;
  readonly hazards: readonly Hazard[];
}

export interface Diagnosis {
  readonly causes: readonly Cause[];
  /** The check whose answer is worth most now; undefined where the causes are decided or no check tells. */
  readonly nextCheck: ChosenCheck | undefined;
}

/** From this probability on a cause is said without reserve: four to one. */
export const DECIDED_FROM = 0.8;
/** Less likely causes are not listed. */
const MIN_SHOWN = 0.03;
const NO_DIAGNOSIS: Diagnosis = { causes: [], nextCheck: undefined };

/** What the photographs alone do not show: what checks have shown so far. */
export interface FurtherObservations {
  readonly answers?: readonly CheckAnswer[] | undefined;
}

/**
 * Causes of what `findings` found outside, most likely first; none where nothing is outside. Throws RangeError for an answer
 * that no check of the table has.
 */
export function diagnose(
  reading: DiagnosedReading,
  findings: readonly Finding[],
  { answers = [] }: FurtherObservations = {},
): Diagnosis {
  const outside = new Set(findings.filter(({ verdict }) => verdict === 'outside').map(({ code }) => code));
  const { eyes } = reading;
  const lookedAt = eyes && { ...reading, eyes };
  const light =
    lookedAt && LIGHT_FINDINGS.some((code) => outside.has(code))
      ? lightPosterior({ way: 'seen', ...observeLight(lookedAt) })
      : [];
  const strays = outside.has('stray-image') ? listStrays(reading) : [];
  const shape = isMisshapen(reading, outside) ? shapePosterior(observeShape(reading.misalignment)) : [];
  const { causes, nextCheck } = composeDiagnosis(light, shape, answers, {
    light: (fault) => ({
      explains: explainedByLight(fault, lookedAt!.eyes).filter((code) => outside.has(code)),
      evidence: listLightEvidence(fault, lookedAt!),
    }),
    shape: ({ row }) => ({
      explains: explainedByShape(row).filter((code) => outside.has(code)),
      evidence: listShapeEvidence(row, reading),
    }),
  });
  return { causes: [...causes, ...strays], nextCheck };
}

/** Those that may be stronger than the limit. A copy was seen and is not inferred, so nothing is weighed. */
function listStrays({ strays = [] }: DiagnosedReading): Cause[] {
  const limit = TOLERANCES.find(({ code }) => code === 'stray-image')!.limit / 100;
  return strays
    .filter(({ strength }) => strength.value + 2 * strength.u > limit)
    .map((stray) => ({ ...STRAY_IMAGE, evidence: listStrayEvidence(stray) }));
}

const STRAY_IMAGE = {
  code: 'stray-image',
  probability: 1,
  undecided: false,
  explains: ['stray-image'],
  check: 'watch-stray-while-masking',
  hazards: ['projector', 'port'],
} as const;

/**
 * Causes of photographs that cannot be measured because they do not show both pictures upright. `lens`: the photograph
 * that was refused; `shown`: the eye whose picture both photographs show.
 */
export function diagnoseRefusal(
  code: string,
  { lens, shown }: { readonly lens?: Eye | undefined; readonly shown?: Eye | undefined },
  answers: readonly CheckAnswer[] = [],
): Diagnosis {
  const way = WAY_OF_REFUSAL[code];
  if (way === undefined) return NO_DIAGNOSIS;
  const missing = shown === undefined ? (way === 'one-photograph-dark' ? lens : undefined) : otherEye(shown);
  const light = lightPosterior({ way, ...(missing && { missing }) });
  const named = (eye: Eye | undefined) => (eye ? [{ name: 'missing_picture', value: eye }] : []);
  return composeDiagnosis(light, [], answers, {
    light: ({ row, eye }) => ({ explains: [], evidence: row.code === 'picture-missing' ? named(eye) : [] }),
    shape: () => ({ explains: [], evidence: [] }),
  });
}

const WAY_OF_REFUSAL: Readonly<Record<string, Way>> = {
  mirrored: 'mirrored',
  'upside-down': 'upside-down',
  'same-eye-twice': 'one-picture',
  underexposed: 'one-photograph-dark',
};

const LIGHT_FINDINGS: readonly FindingCode[] = [
  'no-polarization',
  'eyes-exchanged',
  'crosstalk-left',
  'crosstalk-right',
  'local-ghost',
];

/** What is outside may be what this screen, these sheets and these mirrors are like. */
const NOTHING_BROKEN = {
  code: 'nothing-broken',
  explains: [],
  evidence: [],
  check: 'repeat-with-known-glasses',
  hazards: [],
} as const;

type CauseDetails = Pick<Cause, 'explains' | 'evidence'>;

function composeDiagnosis(
  light: readonly Hypothesis<Fault>[],
  shape: readonly Hypothesis<ShapeFault>[],
  answers: readonly CheckAnswer[],
  describe: { readonly light: (fault: Fault) => CauseDetails; readonly shape: (fault: ShapeFault) => CauseDetails },
): Diagnosis {
  const answersTo = (field: 'light' | 'shape') =>
    answers.filter(({ check }) => (CHECK_ROWS.find(({ code }) => code === check)?.field ?? field) === field);
  const lightGivenAnswers = applyAnswers(light.map(withCodes), light.length > 0 ? answersTo('light') : []);
  const shapeGivenAnswers = applyAnswers(shape.map(withCodes), shape.length > 0 ? answersTo('shape') : []);
  const isRefused = lightGivenAnswers.length > 0 && lightGivenAnswers[0]!.weight === 0;
  const listed = [
    ...listCauses(lightGivenAnswers, LIGHT_FAULTS, describe.light, isRefused),
    ...listCauses(shapeGivenAnswers, SHAPE_FAULTS, describe.shape, false),
    ...listNothing(lightGivenAnswers, shapeGivenAnswers),
  ];
  const causes = listed.toSorted((a, b) => b.probability - a.probability);
  const answered = answers.map(({ check }) => check);
  const checks = [chooseCheck(lightGivenAnswers, 'light', answered), chooseCheck(shapeGivenAnswers, 'shape', answered)]
    .filter((check) => check !== undefined)
    .toSorted((a, b) => b.gain_bits - a.gain_bits);
  return { causes, nextCheck: causes.some(({ undecided }) => undecided) ? checks[0] : undefined };
}

function withCodes<S extends { readonly row: { readonly code: CauseCode } }>(hypothesis: Hypothesis<S>) {
  return { ...hypothesis, codes: hypothesis.faults.map(({ row }) => row.code) };
}

/** `isUnexplained`: nothing is outside a limit, so a cause need not explain a finding to be listed. */
function listCauses<S extends Fault | ShapeFault>(
  hypotheses: readonly (Hypothesis<S> & WeightedCodes)[],
  faults: readonly S[],
  describe: (fault: S) => CauseDetails,
  isUnexplained: boolean,
): Cause[] {
  return faults
    .map((fault) => ({
      fault,
      probability: probabilityThat(hypotheses, ({ faults: among }) => among.includes(fault)),
    }))
    .filter(({ probability }) => probability >= MIN_SHOWN)
    .map(({ fault: s, probability }): Cause => {
      const { code, check, hazards } = s.row;
      return { code, probability, undecided: probability < DECIDED_FROM, ...describe(s), check, hazards };
    })
    .filter(({ explains }) => isUnexplained || explains.length > 0);
}

/** Nothing is broken only where neither the light nor the shape needs a fault. */
function listNothing(...fields: readonly (readonly Hypothesis<unknown>[])[]): Cause[] {
  const examined = fields.filter((hypotheses) => hypotheses.length > 0);
  if (examined.length === 0) return [];
  const none = ({ faults }: Hypothesis<unknown>) => faults.length === 0;
  const probability = examined.reduce((product, hypotheses) => product * probabilityThat(hypotheses, none), 1);
  return probability < MIN_SHOWN ? [] : [{ ...NOTHING_BROKEN, probability, undecided: probability < DECIDED_FROM }];
}

function probabilityThat<H extends Hypothesis<unknown>>(
  hypotheses: readonly H[],
  holds: (hypothesis: H) => boolean,
): number {
  return hypotheses.reduce((sum, hypothesis) => (holds(hypothesis) ? sum + hypothesis.weight : sum), 0);
}

function observeLight({
  eyes,
  crosstalkSurvey,
  misalignment,
  house,
  aspect,
  upperPortShows,
}: ReadingWithEyes): Omit<LightObservations, 'way'> {
  return {
    ratios: crosstalkSurvey && crosstalkSurvey.shape !== 'even' ? ratiosOver(eyes, crosstalkSurvey) : ratiosOf(eyes),
    ...(crosstalkSurvey && { crosstalkShape: crosstalkSurvey.shape }),
    verticalOffset: misalignment.terms.verticalOffset,
    halfFrameOffsets: house
      ? [{ value: predictHalfFrameOffset(house.film, aspect, upperPortShows), weight: 1 }]
      : typicalHalfFrames(aspect),
  };
}

/** Right-eye over left-eye picture, from the leak where that is the better known way round. */
function ratiosOf(eyes: Eyes): Readonly<Record<Eye, Measured>> {
  const left = eyes.crosstalkLeft;
  const right = eyes.crosstalkRight;
  // A leak lost in the noise may be at or below zero, and has no inverse; any small one stands for it.
  const least = Math.max(right.value, right.u, 1e-9);
  return { left, right: invertRatio({ value: least, u: right.u }) };
}

/** Of the whole picture: a mean over marks leaves out those of a place as outliers. */
function ratiosOver(eyes: Eyes, { mean }: CrosstalkSurvey): Readonly<Record<Eye, Measured>> {
  if (eyes.assignment === 'undetermined') return ratiosOf(eyes);
  return eyes.assignment === 'swapped'
    ? { left: invertRatio(mean.left), right: mean.right }
    : { left: mean.left, right: invertRatio(mean.right) };
}

/** Centre-to-centre distances in use (common practice); the projected width is that of ISO 2907. */
const CENTRES_IN = [0.387, 0.375, 0.363];
const DEFAULT_PICTURE_WIDTH_MM = 20.95;

function typicalHalfFrames(aspect: number): Node[] {
  return CENTRES_IN.flatMap((centre_to_centre_in) =>
    EYES.map((upper) => ({
      value: predictHalfFrameOffset({ centre_to_centre_in, picture_width_mm: DEFAULT_PICTURE_WIDTH_MM }, aspect, upper),
      weight: 1 / (CENTRES_IN.length * EYES.length),
    })),
  );
}

function observeShape({ terms }: Misalignment): Readonly<Record<ShapeTerm, Measured>> {
  const percent = ({ value, u }: Measured): Measured => ({ value: 100 * value, u: 100 * u });
  const { size, stretch, shear, keystoneH, keystoneV } = terms;
  return {
    size: percent(size),
    stretch: percent(stretch),
    shear: percent(shear),
    keystoneH: percent(keystoneH),
    keystoneV: percent(keystoneV),
  };
}

function isMisshapen({ misalignment, house, aspect }: DiagnosedReading, outside: ReadonlySet<FindingCode>): boolean {
  if (outside.has('size')) return true;
  return (
    outside.has('worst-vertical') && distortionAlone(misalignment, aspect) > limitTerms(house, aspect).worstVertical
  );
}

const DISTORTIONS: readonly Term[] = ['stretch', 'shear', 'keystoneH', 'keystoneV'];

/** The largest |d_y| that stretch, shear and keystone make by themselves: it stands on the picture's edge. */
function distortionAlone({ terms }: Misalignment, aspect: number): number {
  const alone = Object.fromEntries(
    Object.entries(terms).map(([term, { value }]) => [term, DISTORTIONS.includes(term as Term) ? value : 0]),
  ) as TermVector;
  let worst = 0;
  for (const x of [-aspect / 2, aspect / 2])
    for (const y of [-0.5, 0, 0.5]) worst = Math.max(worst, Math.abs(fieldOfTerms(alone, { x, y }).y));
  return worst;
}
