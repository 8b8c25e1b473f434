/**
 * The sidecar of a rendered set, `twinplumb.truth/1`: what the photographs show exactly, under the field names of a
 * reading, and everything they were rendered from.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import { referenceRadius } from './camera.ts';
import type { FurtherTruth } from './further-photographs.ts';
import { hotSpot } from './light.ts';
import { describeSeriesPhotograph, type SeriesPhotograph } from './photograph-series.ts';
import { isStraight } from './picture-path.ts';
import { projectorPosition } from './projector.ts';
import { type ShotTruth, shotTruth } from './render-shot.ts';
import { type SceneSet, type Shot, shotSeed } from './scene.ts';
import type { SceneTerms } from './terms.ts';
import { misalignmentTruth, sceneMisalignmentTruth } from './truth.ts';

export const TRUTH_SCHEMA = 'twinplumb.truth/1';

export interface TruthRecord {
  readonly schema: typeof TRUTH_SCHEMA;
  readonly seed: number;
  readonly faults: readonly string[];
  /** The terms that were asked for. */
  readonly requested: TermFields<number>;
  /** The terms that the pictures have, by the definition of a reading. */
  readonly misalignment: TermFields<Exact> & {
    readonly worst_vertical_pct: Exact & { readonly at: readonly [number, number] };
    /** What the field holds beyond the eight terms; only where something bends the pictures. */
    readonly remainder_pct?: Exact & { readonly at: readonly [number, number] };
  };
  readonly eyes: {
    readonly assignment: 'correct' | 'swapped' | 'undetermined';
    /** Left lens: right-eye picture over left-eye picture. Places that depolarize more are left out. */
    readonly crosstalk_left_pct: Exact;
    readonly crosstalk_right_pct: Exact;
    /** Brightness of the right-eye picture over the left-eye picture, before the glasses. */
    readonly balance_right_over_left: Exact;
  };
  readonly shots: readonly ReturnType<typeof shotFields>[];
  /** All photographs in the order of time, where the film runs or there are several. */
  readonly series?: readonly ReturnType<typeof describeSeriesPhotograph>[];
  /** Of the photographs beside the pair, where there are any. */
  readonly further?: FurtherTruth;
  readonly scene: SceneSet['scene'];
  readonly jpeg_quality: number;
}

interface Exact {
  readonly value: number;
}

interface TermFields<T> {
  readonly vertical_offset_pct: T;
  readonly horizontal_offset_pct: T;
  readonly rotation_deg: T;
  readonly size_pct: T;
  readonly stretch_pct: T;
  readonly shear_pct: T;
  readonly keystone_h_pct: T;
  readonly keystone_v_pct: T;
}

/** `file` names each photograph, as it stands beside the sidecar. */
export function recordTruth(
  set: SceneSet,
  file: Readonly<Record<Eye, string>>,
  further?: FurtherTruth,
  series?: readonly SeriesPhotograph[],
): TruthRecord {
  const { scene, shots } = set;
  const truth = { left: shotTruth(scene, shots.left), right: shotTruth(scene, shots.right) };
  // The film's place in the gate differs from shot to shot and is no misalignment; without it one camera sees both eyes.
  const bare: Shot = { ...shots.left, lens: 'bare', weave_ih: { x: 0, y: 0 }, frames: undefined };
  const still = shotTruth(scene, bare).photoFromChart;
  const bent = isStraight(scene, bare) ? undefined : sceneMisalignmentTruth(scene, bare);
  const { terms, worstVertical } = bent ?? misalignmentTruth(still.left, still.right, scene.aspect);
  const place = ({ value, at }: { readonly value: number; readonly at: Point }) =>
    ({ value: 100 * value, at: [at.x, at.y] }) as const;
  const exact = (value: number): Exact => ({ value });
  return {
    schema: TRUTH_SCHEMA,
    seed: set.seed,
    faults: set.faults,
    requested: termFields(scene.projector.misalignment, (value) => value),
    misalignment: {
      ...termFields(terms, exact),
      worst_vertical_pct: place(worstVertical),
      ...(bent && { remainder_pct: place(bent.remainder) }),
    },
    eyes: {
      assignment: assignmentOf(set, truth),
      crosstalk_left_pct: exact((100 * truth.left.strength.right) / truth.left.strength.left),
      crosstalk_right_pct: exact((100 * truth.right.strength.left) / truth.right.strength.right),
      balance_right_over_left: exact(scene.brightness.right / scene.brightness.left),
    },
    shots: EYES.map((lens) => shotFields(set, lens, truth[lens], file[lens])),
    ...(series && { series: series.map(describeSeriesPhotograph) }),
    ...(further && { further }),
    scene,
    jpeg_quality: set.jpegQuality,
  };
}

function termFields<T>(terms: SceneTerms, field: (value: number) => T): TermFields<T> {
  return {
    vertical_offset_pct: field(100 * terms.verticalOffset),
    horizontal_offset_pct: field(100 * terms.horizontalOffset),
    rotation_deg: field((terms.rotation * 180) / Math.PI),
    size_pct: field(100 * terms.size),
    stretch_pct: field(100 * terms.stretch),
    shear_pct: field(100 * terms.shear),
    keystone_h_pct: field(100 * terms.keystoneH),
    keystone_v_pct: field(100 * terms.keystoneV),
  };
}

function assignmentOf({ scene }: SceneSet, truth: Readonly<Record<Eye, ShotTruth>>): TruthRecord['eyes']['assignment'] {
  if (!scene.polarization.fitted) return 'undetermined';
  const ownInLeft = truth.left.strength.left > truth.left.strength.right;
  const ownInRight = truth.right.strength.right > truth.right.strength.left;
  if (ownInLeft !== ownInRight) return 'undetermined';
  return ownInLeft ? 'correct' : 'swapped';
}

function shotFields(set: SceneSet, lens: Eye, truth: ShotTruth, file: string) {
  const shot: Shot = set.shots[lens];
  const { camera } = shot;
  const spot: Point = hotSpot(projectorPosition(set.scene.projector), camera.position_ih);
  return {
    role: `${lens}-lens`,
    file,
    noise_seed: shotSeed(set, lens),
    width_px: camera.width_px,
    height_px: camera.height_px,
    /** Undistorted photo px from chart ih, nine numbers row by row, for each eye's picture. */
    photo_from_chart: { left: truth.photoFromChart.left, right: truth.photoFromChart.right },
    /** x_d = c + (x_u - c) (1 + k1 r^2 + k2 r^4), r = |x_u - c| / radius_px, c = image centre + offset. */
    distortion: {
      k1: camera.distortion.k1,
      k2: camera.distortion.k2,
      radius_px: referenceRadius(camera),
      centre_offset_px: [camera.distortion.centreOffset_px.x, camera.distortion.centreOffset_px.y],
    },
    /** White minus black of each eye's picture at the hot spot on the lens axis, linear light, 1 = clipping. */
    strength: truth.strength,
    hot_spot_ih: [spot.x, spot.y],
    focal_px: camera.focal_px,
    position_ih: camera.position_ih,
    look_at_ih: camera.lookAt_ih,
    roll_deg: camera.roll_deg,
    exposure: shot.exposure,
    vignetting: shot.vignetting,
    defocus_px: shot.defocus_px,
    motion: shot.motion,
    weave_ih: shot.weave_ih,
    sensor: shot.sensor,
    heads: shot.heads,
  };
}
