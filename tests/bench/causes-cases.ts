/** Simulated houses with planted faults, and what is made of them: rendered and measured, or from their exact truth with noise. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describeDiagnosis } from '../../src/application/pair/describe-causes.ts';
import { reachOfStray } from '../../src/application/pair/find-strays.ts';
import { measurePhotographs } from '../../src/application/measure-photographs.ts';
import { photographsOf } from '../application/name-photographs.ts';
import { type Diagnosis, diagnose, diagnoseRefusal } from '../../src/diagnosis/diagnose.ts';
import type { CheckAnswer } from '../../src/diagnosis/choose-check.ts';
import { judge, type SeenStray } from '../../src/limits/judge.ts';
import { fieldOfTerms, type Misalignment, TERMS } from '../../src/geometry/misalignment.ts';
import { EYES, type Eye, otherEye } from '../../src/kernel/eye.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { assignEyes, describeEyes, invertRatio, type LensRatios, type Eyes } from '../../src/light/eyes.ts';
import { compareStrength } from '../../src/light/compare-pictures.ts';
import { MAP_COLUMNS, MAP_ROWS } from '../../src/light/eye-matrix.ts';
import { type CrosstalkSurvey, surveyCrosstalk } from '../../src/light/survey-crosstalk.ts';
import { encodeJpeg } from '../../src/photo/write-photo.ts';
import type { House } from '../../src/record/house.ts';
import type { UnwordedDiagnosis } from '../../src/record/diagnosis.ts';
import { drawFault, plantFault } from '../../src/scene/faults.ts';
import { depolarizationAt, transmittance } from '../../src/scene/polarization.ts';
import { setUpRehearsal } from '../../src/scene/rehearsal-set.ts';
import { renderShot } from '../../src/scene/render-shot.ts';
import { type SceneSet, shotSeed } from '../../src/scene/scene.ts';
import type { FaultName } from '../../src/scene/fault-names.ts';

export interface Case {
  readonly seed: number;
  readonly faults: readonly FaultName[];
}

export interface Outcome extends UnwordedDiagnosis {
  /** `measured`, or the code of the refusal. */
  readonly outcome: string;
  /** The same photographs judged again with the answers of checks; only from the exact truth. */
  readonly again?: (answers: readonly CheckAnswer[]) => UnwordedDiagnosis;
}

/** A good house, every lens and screen a little different, with the faults in it. */
export function setUpCase({ seed, faults }: Case, halfFrame_ih: number, megapixels: number): SceneSet {
  const random = createRandom(seed).fork(77);
  const width_px = Math.round(Math.sqrt((megapixels * 4e6) / 3));
  const healthy = setUpRehearsal(seed, {
    start: 'aligned',
    vertical_pct: random.between(-0.15, 0.15),
    horizontal_pct: random.between(-0.2, 0.2),
    size_pct: random.between(-0.15, 0.15),
    depolarization_pct: random.between(0.5, 1.2),
    balance: random.between(0.9, 1.1),
    polarizerError_deg: { left: random.between(-1.5, 1.5), right: random.between(-1.5, 1.5) },
    photo: { width_px, height_px: Math.round(width_px * 0.75) },
  });
  return faults.reduce((set, name) => plantFault(set, drawFault(name, random, halfFrame_ih)), healthy);
}

/** Rendered, written as JPEG, read and measured. */
export async function measureCase(set: SceneSet, house: House): Promise<Outcome> {
  const folder = mkdtempSync(join(tmpdir(), 'twinplumb-causes-'));
  try {
    for (const lens of EYES) {
      const { pixels } = renderShot(set.scene, set.shots[lens], shotSeed(set, lens));
      writeFileSync(join(folder, `${lens}.jpg`), await encodeJpeg(pixels, set.jpegQuality));
    }
    const reading = await measurePhotographs({
      photographs: photographsOf(join(folder, 'left.jpg'), join(folder, 'right.jpg')),
      house,
      softwareVersion: 'bench',
    });
    const outcome = reading.outcome === 'measured' ? 'measured' : reading.refusal.code;
    return { outcome, causes: reading.causes ?? [], next_check: reading.next_check };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Noise of a measurement that is not rendered: part of a leak, leak, and terms (ih, radians, fractions). */
const NOISE = { relative: 0.02, leak: 0.0003, mark: 0.001, cell: 0.0005, stray: 0.1, term: 2e-5 };

/** What a measurement of this set would give, from its exact truth with noise of the usual size. */
export function observeCase(set: SceneSet, house: House): Outcome {
  const random = createRandom(set.seed).fork(78);
  const shown = pictureTwice(set);
  const code = set.scene.projector.filmTurnedOver ? 'mirrored' : shown ? 'same-eye-twice' : 'measured';
  const eyes = code === 'measured' ? observeEyes(set, random) : undefined;
  if (!eyes) {
    const again = (answers: readonly CheckAnswer[]) => described(diagnoseRefusal(code, { shown }, answers));
    return { outcome: code, ...again([]), again };
  }
  const misalignment = observeTerms(set, random);
  const crosstalkSurvey = observeSurvey(set, random);
  const upperPortShows = house.attachment?.upper_port_shows ?? 'right';
  const strays = observeStrays(set, random);
  const judged = { misalignment, eyes, crosstalkSurvey, strays, house, aspect: set.scene.aspect, upperPortShows };
  const findings = judge(judged);
  const again = (answers: readonly CheckAnswer[]) => described(diagnose(judged, findings, { answers }));
  return { outcome: code, ...again([]), again };
}

/** The picture that both photographs show alone: the only one there is, or that of the lens which was before the camera twice. */
function pictureTwice({ scene, shots }: SceneSet): Eye | undefined {
  const missing = EYES.find((eye) => scene.brightness[eye] === 0);
  if (missing) return otherEye(missing);
  const { lens } = shots.left;
  return lens === 'bare' || lens !== shots.right.lens
    ? undefined
    : scene.polarization.exchanged
      ? otherEye(lens)
      : lens;
}

function described(diagnosis: Diagnosis): UnwordedDiagnosis {
  return describeDiagnosis(diagnosis);
}

/** The middles of the cells of a map, row by row. */
const cellsOf = (aspect: number) =>
  Array.from({ length: MAP_COLUMNS * MAP_ROWS }, (_, i) => ({
    x: aspect * (((i % MAP_COLUMNS) + 0.5) / MAP_COLUMNS - 0.5),
    y: 0.5 - (Math.floor(i / MAP_COLUMNS) + 0.5) / MAP_ROWS,
  }));

function strengthAt({ scene, shots }: SceneSet, at: Point, picture: Eye, lens: Eye): number {
  const depolarization = depolarizationAt(scene.polarization, at);
  return scene.brightness[picture] * transmittance(scene.polarization, picture, shots[lens].lens, depolarization);
}

/** The leaks over the picture. */
function observeSurvey(set: SceneSet, random: RandomSource): CrosstalkSurvey | undefined {
  const through = (lens: Eye) =>
    cellsOf(set.scene.aspect).map((at) => {
      const [left, right] = EYES.map((picture) => strengthAt(set, at, picture, lens)) as [number, number];
      const leak = Math.min(left, right) / Math.max(left, right);
      const u = Math.hypot(NOISE.cell, NOISE.relative * leak);
      return { value: leak + u * random.normal(), u };
    });
  return surveyCrosstalk({ left: through('left'), right: through('right') }, set.scene.aspect);
}

function observeEyes(set: SceneSet, random: RandomSource): Eyes | undefined {
  const cells = cellsOf(set.scene.aspect);
  /** As the program takes the mean over marks, with those that stand out left out. */
  const meanRatio = (weaker: Eye, stronger: Eye, lens: Eye) => {
    const surface = { strengthAt: (at: Point) => strengthAt(set, at, stronger, lens), scatter: 0 };
    const marks = cells.map((at) => ({
      at,
      contrast: strengthAt(set, at, weaker, lens),
      contrastU: NOISE.mark * surface.strengthAt(at),
    }));
    return compareStrength(marks, surface, 0).value;
  };
  const measure = (weaker: Eye, stronger: Eye, lens: Eye) => {
    const ratio = meanRatio(weaker, stronger, lens);
    const u = Math.hypot(NOISE.relative * ratio, NOISE.leak);
    return { value: Math.max(1e-6, ratio + u * random.normal()), u };
  };
  const ratioOf = (lens: Eye) => {
    const light = (picture: Eye) => cells.reduce((sum, at) => sum + strengthAt(set, at, picture, lens), 0);
    return light('right') < light('left')
      ? measure('right', 'left', lens)
      : invertRatio(measure('left', 'right', lens));
  };
  const ratios: LensRatios = { left: ratioOf('left'), right: ratioOf('right') };
  const assignment = assignEyes(ratios);
  if (typeof assignment === 'object') return undefined;
  const unknown = { left: { value: 1, u: 1 }, right: { value: 1, u: 1 } };
  return describeEyes(assignment, ratios, unknown, unknown);
}

function observeStrays({ scene }: SceneSet, random: RandomSource): SeenStray[] {
  return (scene.strays ?? []).map(({ eye, offset_ih: { x, y }, strength }) => {
    const u = NOISE.stray * strength;
    const exact = (value: number) => ({ value, u: 0 });
    const reach = reachOfStray({ x: exact(x), y: exact(y) }, scene.aspect);
    return { eye, strength: { value: strength + u * random.normal(), u }, ...reach };
  });
}

function observeTerms({ scene }: SceneSet, random: RandomSource): Misalignment {
  const u = NOISE.term;
  const { misalignment } = scene.projector;
  const terms = Object.fromEntries(
    TERMS.map((term) => [term, { value: misalignment[term] + u * random.normal(), u }]),
  ) as unknown as Misalignment['terms'];
  let worstVertical = { value: 0, u, at: { x: 0, y: 0 } };
  for (const x of [-0.5, 0, 0.5])
    for (const y of [-0.5, 0, 0.5]) {
      const at = { x: x * scene.aspect, y };
      const value = fieldOfTerms(misalignment, at).y;
      if (Math.abs(value) > Math.abs(worstVertical.value)) worstVertical = { value, u, at };
    }
  return { terms, covariance: TERMS.map((_, r) => TERMS.map((__, c) => (r === c ? u * u : 0))), worstVertical };
}
