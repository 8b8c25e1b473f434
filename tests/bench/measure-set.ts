/** One simulated set through the whole chain: rendered, written to files, measured from the files, laid beside its truth. */
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { measurePhotographs } from '../../src/application/measure-photographs.ts';
import { photographsOf } from '../application/name-photographs.ts';
import type { Pixels, Raster } from '../../src/imaging/pixels.ts';
import { srgbFromLinear } from '../../src/imaging/srgb.ts';
import { EYES, type Eye } from '../../src/kernel/eye.ts';
import type { Measured } from '../../src/kernel/measured.ts';
import { encodeJpeg, encodePng } from '../../src/photo/write-photo.ts';
import type { UnwordedMeasured } from '../../src/record/reading.ts';
import { REPORTED_FIELDS, type ReportedField } from '../../src/record/term-fields.ts';
import { type PhotoSize, randomScene, type SceneKind } from '../../src/scene/random-scene.ts';
import { type RenderedShot, renderShot } from '../../src/scene/render-shot.ts';
import { type SceneSet, shotSeed } from '../../src/scene/scene.ts';
import { recordTruth } from '../../src/scene/truth-record.ts';
import { type Bounds, boundsOfSet } from './cramer-rao.ts';

/** `jpeg`: as a camera writes; `png`: without compression; `exact`: 16 bits, without noise, to tell errors of the model. */
export const PHOTO_FORMS = ['jpeg', 'png', 'exact'] as const;
export type PhotoForm = (typeof PHOTO_FORMS)[number];

export interface SetRequest {
  readonly seed: number;
  readonly kind: SceneKind;
  readonly megapixels: number;
  readonly form: PhotoForm;
  readonly folder: string;
  /** Leave the photographs where they are. */
  readonly keep: boolean;
}

export interface Judged extends Measured {
  readonly truth: number;
}

interface SetFacts {
  readonly seed: number;
  readonly kind: SceneKind;
  readonly faults: readonly string[];
  /** What makes a photograph difficult, for people. */
  readonly scene: Readonly<Record<string, number | string>>;
}

export interface MeasuredSet extends SetFacts {
  readonly outcome: 'measured';
  readonly terms: Readonly<Record<ReportedField, Judged>>;
  readonly crosstalk: Readonly<Record<Eye, Judged>>;
  readonly assignmentRight: boolean;
  readonly marks: Readonly<Record<Eye, number>>;
  /** Only for judge sets. */
  readonly bounds: Bounds | null;
}

export interface UnmeasuredSet extends SetFacts {
  /** `failed`: an exception, which is a fault of the program. */
  readonly outcome: 'refused' | 'failed';
  readonly code: string;
  readonly shot: string | null;
  readonly details: string;
}

export type SetResult = MeasuredSet | UnmeasuredSet;

export async function measureSet(request: SetRequest): Promise<SetResult> {
  const { seed, kind } = request;
  const set = randomScene(seed, kind, sizeOf(request.megapixels));
  const facts: SetFacts = { seed, kind, faults: set.faults, scene: describeScene(set) };
  const extension = request.form === 'jpeg' ? 'jpg' : 'png';
  const paths = Object.fromEntries(
    EYES.map((lens) => [lens, join(request.folder, `${kind}-${seed}-${lens}.${extension}`)]),
  ) as Record<Eye, string>;
  const light = {} as Record<Eye, Raster>;
  for (const lens of EYES) {
    const shot = renderShot(set.scene, set.shots[lens], shotSeed(set, lens));
    light[lens] = shot.noiseFree;
    await writeFile(paths[lens], await encode(shot, request.form, set.jpegQuality));
  }
  try {
    const reading = await measurePhotographs({
      photographs: photographsOf(paths.left, paths.right),
      aspect: set.scene.aspect,
      softwareVersion: 'bench',
    });
    if (reading.outcome === 'refused') {
      const { code, shot, facts: numbers } = reading.refusal;
      return { ...facts, outcome: 'refused', code, shot, details: JSON.stringify(numbers) };
    }
    return { ...facts, ...besideTruth(set, reading), bounds: kind === 'judge' ? boundsOfSet(set, light) : null };
  } catch (error) {
    const details = error instanceof Error ? (error.stack ?? error.message) : String(error);
    return { ...facts, outcome: 'failed', code: 'exception', shot: null, details };
  } finally {
    if (!request.keep) for (const lens of EYES) await rm(paths[lens], { force: true });
  }
}

/** Photographs of the shape 4 : 3. */
export function sizeOf(megapixels: number): PhotoSize {
  const unit = Math.sqrt((megapixels * 1e6) / 12);
  return { width_px: Math.round(4 * unit), height_px: Math.round(3 * unit) };
}

function encode({ pixels, noiseFree }: RenderedShot, form: PhotoForm, quality: number): Promise<Uint8Array> {
  if (form === 'jpeg') return encodeJpeg(pixels, quality);
  return encodePng(form === 'png' ? pixels : exactPixels(noiseFree));
}

function exactPixels({ width, height, data }: Raster): Pixels {
  const code = (light: number) => Math.round(65535 * srgbFromLinear(Math.min(1, Math.max(0, light))));
  return { width, height, channels: 1, data: Uint16Array.from(data, code) };
}

function besideTruth(
  set: SceneSet,
  { misalignment, eyes, marks }: UnwordedMeasured,
): Pick<MeasuredSet, 'outcome' | 'terms' | 'crosstalk' | 'assignmentRight' | 'marks'> {
  const truth = recordTruth(set, { left: '', right: '' });
  const judge = ({ value, u }: Measured, { value: exact }: { value: number }): Judged => ({ value, u, truth: exact });
  const worst = { value: Math.abs(truth.misalignment.worst_vertical_pct.value) };
  const trueValue = { ...truth.misalignment, worst_vertical_pct: worst };
  return {
    outcome: 'measured',
    terms: Object.fromEntries(
      REPORTED_FIELDS.map((field) => [field, judge(misalignment[field], trueValue[field])]),
    ) as Record<ReportedField, Judged>,
    crosstalk: {
      left: judge(eyes.crosstalk_left_pct!, truth.eyes.crosstalk_left_pct),
      right: judge(eyes.crosstalk_right_pct!, truth.eyes.crosstalk_right_pct),
    },
    assignmentRight: eyes.assignment === truth.eyes.assignment,
    marks: { left: marks.left, right: marks.right },
  };
}

function describeScene({ scene, shots, jpegQuality }: SceneSet): Record<string, number | string> {
  const shot = shots.left;
  const { x, y, z } = shot.camera.position_ih;
  const cut = scene.cuts[0];
  const rounded = (value: number) => Number(value.toPrecision(3));
  return {
    from_normal_deg: rounded((Math.atan2(Math.hypot(x, y), z) * 180) / Math.PI),
    distance_ih: rounded(Math.hypot(x, y, z)),
    exposure: rounded(shot.exposure),
    defocus_px: rounded(shot.defocus_px),
    full_well_e: rounded(shot.sensor.fullWell_e),
    k1: rounded(shot.camera.distortion.k1),
    heads: shot.heads.length,
    cut: cut ? `${cut.eye} ${rounded(cut.normal_deg)} deg` : 'none',
    jpeg_quality: jpegQuality,
  };
}
