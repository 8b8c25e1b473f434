/** One simulated house photographed at several leaks: drawn once, its two pictures mixed anew for each leak. */
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { compareShots } from '../../src/application/pair/compare-shots.ts';
import { examineThoroughly } from '../../src/application/shot/examine-shot.ts';
import type { Raster } from '../../src/imaging/pixels.ts';
import { EYES, type Eye, otherEye } from '../../src/kernel/eye.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { readPhoto } from '../../src/photo/read-photo.ts';
import { encodeJpeg } from '../../src/photo/write-photo.ts';
import { randomScene } from '../../src/scene/random-scene.ts';
import { renderLayers, type ShotLayers } from '../../src/scene/render-shot.ts';
import { exposeSensor, type Sensor } from '../../src/scene/sensor.ts';
import { layoutChart } from '../../src/target/chart.ts';
import { type Judged, sizeOf } from './measure-set.ts';

/** What makes a photograph good or bad at showing a leak. */
export const CONDITIONS = {
  usual: { light: 1, fullWell_e: null, quality: null },
  dim: { light: 0.2, fullWell_e: null, quality: null },
  noisy: { light: 1, fullWell_e: 2000, quality: null },
  'dim noisy': { light: 0.25, fullWell_e: 2000, quality: null },
  crushed: { light: 0.6, fullWell_e: null, quality: 55 },
} as const;
export type Condition = keyof typeof CONDITIONS;

export interface CrosstalkRequest {
  readonly seed: number;
  readonly conditions: readonly Condition[];
  readonly leaks_pct: readonly number[];
  readonly megapixels: number;
  readonly folder: string;
}

export interface MeasuredCrosstalk {
  readonly seed: number;
  readonly condition: Condition;
  readonly lens: Eye;
  /** Wrong over right picture, percent; `truth` is what was mixed. */
  readonly judged: Judged;
}

export interface CrosstalkResult {
  readonly seed: number;
  readonly measured: readonly MeasuredCrosstalk[];
  readonly refused: readonly { readonly condition: Condition; readonly leak_pct: number; readonly code: string }[];
}

export async function measureCrosstalk(request: CrosstalkRequest): Promise<CrosstalkResult> {
  const { seed, conditions, leaks_pct, megapixels, folder } = request;
  const { scene, shots, jpegQuality } = randomScene(seed, 'judge', sizeOf(megapixels));
  const chart = layoutChart(scene.aspect);
  const layers = renderLayers(scene, shots.left);
  // What a camera's white balance leaves of the lamp's colour: JPEG keeps colour more coarsely than brightness.
  const colour = createRandom(seed).fork(31);
  const tint = [colour.between(0.88, 1.04), 1, colour.between(0.84, 1.04)] as const;
  const measured: MeasuredCrosstalk[] = [];
  const refused: { condition: Condition; leak_pct: number; code: string }[] = [];
  for (const condition of conditions) {
    const { light, fullWell_e, quality } = CONDITIONS[condition];
    const sensor: Sensor = { ...shots.left.sensor, tint, ...(fullWell_e === null ? {} : { fullWell_e }) };
    for (const leak_pct of leaks_pct) {
      const look = async (lens: Eye) => {
        const noise = createRandom(seed * 1000 + Math.round(100 * leak_pct) * 2 + (lens === 'left' ? 0 : 1));
        const pixels = exposeSensor(mix(layers, lens, leak_pct / 100, light), sensor, noise);
        const path = join(folder, `${seed}-${lens}.jpg`);
        await writeFile(path, await encodeJpeg(pixels, quality ?? jpegQuality));
        const read = await readPhoto(path);
        await rm(path);
        return read.outcome === 'refused' ? read : examineThoroughly(read.photo.pixels, chart);
      };
      const [left, right] = [await look('left'), await look('right')];
      const compared =
        left.outcome === 'examined' && right.outcome === 'examined' ? compareShots({ left, right }, chart) : undefined;
      if (compared?.outcome !== 'compared') {
        const code = [left, right, compared].find((part) => part?.outcome === 'refused');
        refused.push({ condition, leak_pct, code: code && 'code' in code ? code.code : 'unreadable' });
        continue;
      }
      const { crosstalkLeft, crosstalkRight } = compared.eyes;
      for (const lens of EYES) {
        const { value, u } = lens === 'left' ? crosstalkLeft : crosstalkRight;
        measured.push({ seed, condition, lens, judged: { value: 100 * value, u: 100 * u, truth: leak_pct } });
      }
    }
  }
  return { seed, measured, refused };
}

/** The lens's own picture as strong as in the set, the other one as a part of it. */
function mix(layers: ShotLayers, lens: Eye, leak: number, light: number): Raster {
  const { background } = layers;
  const own = layers[lens].data;
  const other = layers[otherEye(lens)].data;
  const strength = light * layers.truth.strength.left;
  const data = background.data.map((room, i) => light * room + strength * (own[i] + leak * other[i]));
  return { ...background, data };
}
