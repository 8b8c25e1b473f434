import { beforeAll, describe, expect, it } from 'vitest';
import { LUMA_WEIGHTS, luminanceCrop } from '../../src/imaging/luminance.ts';
import type { Raster } from '../../src/imaging/pixels.ts';
import { EYES, type Eye } from '../../src/kernel/eye.ts';
import { compose, type Homography } from '../../src/kernel/homography.ts';
import { createMatrix, invertSymmetric, type Matrix, quadraticForm } from '../../src/kernel/linear-algebra.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { erf, mean } from '../../src/kernel/statistics.ts';
import { renderPictureLayer } from '../../src/scene/picture-layer.ts';
import { randomScene } from '../../src/scene/random-scene.ts';
import { renderShot, shotTruth } from '../../src/scene/render-shot.ts';
import type { SceneSet, Shot } from '../../src/scene/scene.ts';
import { exposeSensor } from '../../src/scene/sensor.ts';
import { layoutChart } from '../../src/target/chart.ts';
import { boundsOfSet, informationOfSet, pixelWeights } from './cramer-rao.ts';
import { addLocalInformation, LOCAL, TAPS } from './local-information.ts';
import { LENS_AT, locate, PARAMETERS, photoFromFrame, trueParameters } from './true-view.ts';

describe('information of a straight edge', () => {
  /** Light of an upright edge at column `place`, from 0 to 1. */
  const edge = (place: number, blur_px: number): Raster => ({
    width: 121,
    height: 20 + 2 * TAPS,
    data: Float32Array.from(
      { length: 121 * (20 + 2 * TAPS) },
      (_, i) => 0.5 + 0.5 * erf(((i % 121) - place) / (blur_px * Math.SQRT2)),
    ),
  });
  const informationOf = (place: number, blur_px: number, noise: number) => {
    const ring = { radius: 1e3, luma: createMatrix(LOCAL, LOCAL), channels: createMatrix(LOCAL, LOCAL) };
    const weight = { luma: () => noise ** -2, channels: () => noise ** -2 };
    // No slope can be taken in the outermost rows, which leaves 20 of them.
    const centre = { x: 60, y: 10 + TAPS };
    addLocalInformation(edge(place, blur_px), { centre, ihFromPx: [1, 0, 0, 1] }, [ring], weight);
    return ring.luma.data[0];
  };
  /** Sharp edges tell a little more in some places among the pixels than half a pixel further. */
  const placeU = (blur_px: number, noise: number) =>
    ((informationOf(60.3, blur_px, noise) + informationOf(60.8, blur_px, noise)) / 2) ** -0.5;

  it('is that of the formula: noise 2 %, blur 1 px, 20 px of edge give 0.0084 px (computed)', () => {
    expect(placeU(1, 0.02)).toBeCloseTo(0.0084, 4);
  });

  it('follows sqrt(2 sqrt(pi) blur / length) for sharp and soft edges', () => {
    for (const blur_px of [0.65, 0.9, 2]) {
      const expected = 0.02 * Math.sqrt((2 * Math.sqrt(Math.PI) * blur_px) / 20);
      // The pixel grid cannot hold all of the sharpest edge's slope.
      expect(Math.abs(placeU(blur_px, 0.02) / expected - 1)).toBeLessThan(blur_px < 0.8 ? 0.015 : 0.003);
    }
  });
});

describe('noise of a pixel', () => {
  it.each([0.002, 0.02, 0.2, 0.8])('is that of simulated photographs at the light %f', (level) => {
    const { sensor } = randomScene(1, 'judge').shots.left;
    const light = { width: 400, height: 250, data: new Float32Array(100_000).fill(level) };
    const { data } = luminanceCrop(exposeSensor(light, sensor, createRandom(5)), 0, 0, 400, 250);
    const centre = mean(data);
    const variance = data.reduce((sum, v) => sum + (v - centre) ** 2, 0) / data.length;
    // The variance of 100 000 normal values is known to half a percent.
    expect(variance * pixelWeights(sensor, level).luma).toBeGreaterThan(0.96);
    expect(variance * pixelWeights(sensor, level).luma).toBeLessThan(1.04);
  });

  it('is never less through luminance than through the three channels', () => {
    const { sensor } = randomScene(1, 'judge').shots.left;
    for (const level of [0.002, 0.05, 0.8]) {
      const { luma, channels } = pixelWeights(sensor, level);
      expect(channels).toBeGreaterThan(luma);
    }
    expect(LUMA_WEIGHTS.red + LUMA_WEIGHTS.green + LUMA_WEIGHTS.blue).toBeCloseTo(1, 12);
  });
});

/**
 * Scores of simulated photographs, their derivatives taken from pictures rendered anew with each parameter changed:
 * nothing of the gradients and local motions by which the bound is computed enters.
 */
describe('Fisher information', () => {
  // Pictures are filled pixel by pixel before they are blurred; at a blur of 0.6 px that shows (6 %), at 1.2 px hardly.
  const set = withBlur(randomScene(3, 'judge', { width_px: 600, height_px: 450 }), 1.2);
  const photographs = 50;
  let information: Matrix;
  let light: Record<Eye, Raster>;
  let score: Record<Eye, Matrix>;
  /** Weight of each pixel of a mark. */
  let weights: Record<Eye, Float64Array>;

  beforeAll(() => {
    light = { left: lightOf(set, 'left'), right: lightOf(set, 'right') };
    information = informationOfSet(set, light).luma.mark;
    score = derivatives(set);
    const weightsOf = (lens: Eye) =>
      Float64Array.from(
        pixelsOfMarks(set, lens),
        (at) => pixelWeights(set.shots[lens].sensor, light[lens].data[at]).luma,
      );
    weights = { left: weightsOf('left'), right: weightsOf('right') };
  });

  it('agrees with derivatives of pictures rendered anew', () => {
    const anew = createMatrix(PARAMETERS, PARAMETERS);
    for (const lens of EYES) {
      const { cols, data } = score[lens];
      for (let i = 0; i < cols; i++) {
        for (let r = 0; r < PARAMETERS; r++) {
          const w = weights[lens][i] * data[r * cols + i];
          if (w !== 0) for (let c = 0; c < PARAMETERS; c++) anew.data[r * PARAMETERS + c] += w * data[c * cols + i];
        }
      }
    }
    for (let k = 0; k < PARAMETERS; k++) {
      const at = k * (PARAMETERS + 1);
      expect(information.data[at] / anew.data[at]).toBeGreaterThan(0.975);
      expect(information.data[at] / anew.data[at]).toBeLessThan(1.025);
    }
  });

  it('is the covariance of the scores of noisy photographs', () => {
    const inverse = invertSymmetric(information);
    expect(inverse).toBeDefined();
    const squares: number[] = [];
    for (let n = 0; n < photographs; n++) {
      const sum = new Float64Array(PARAMETERS);
      for (const lens of EYES) addScore(sum, lens, 1000 + 2 * n + (lens === 'left' ? 0 : 1));
      squares.push(quadraticForm(inverse!, sum));
    }
    // Chi-squared with as many degrees of freedom as parameters; the mean of n of them scatters by sqrt(2 k / n).
    const scatter = Math.sqrt((2 * PARAMETERS) / photographs);
    expect(Math.abs(mean(squares) - PARAMETERS)).toBeLessThan(3 * scatter);
  });

  it('falls as the regions grow, and terms come in the units of a reading', () => {
    const { luma, channels } = boundsOfSet(set, light);
    for (const field of ['vertical_offset_pct', 'rotation_deg', 'worst_vertical_pct'] as const) {
      expect(luma.mark[field]).toBeLessThan(luma.crossing[field]);
      expect(luma.crossing[field]).toBeLessThan(luma.fitted[field]);
      expect(channels.crossing[field]).toBeLessThan(luma.crossing[field]);
    }
  });

  function addScore(sum: Float64Array, lens: Eye, seed: number): void {
    const shot = set.shots[lens];
    const pixels = exposeSensor(light[lens], shot.sensor, createRandom(seed));
    const seen = luminanceCrop(pixels, 0, 0, pixels.width, pixels.height).data;
    const { cols, data } = score[lens];
    const deviations = Float64Array.from(
      pixelsOfMarks(set, lens),
      (at, i) => (seen[at] - light[lens].data[at]) * weights[lens][i],
    );
    for (let k = 0; k < PARAMETERS; k++) for (let i = 0; i < cols; i++) sum[k] += data[k * cols + i] * deviations[i];
  }
});

function withBlur(set: SceneSet, defocus_px: number): SceneSet {
  const { left, right } = set.shots;
  return { ...set, shots: { left: { ...left, defocus_px }, right: { ...right, defocus_px } } };
}

function lightOf(set: SceneSet, lens: Eye): Raster {
  return renderShot(set.scene, set.shots[lens], 1).noiseFree;
}

const pixelLists = new Map<Eye, readonly number[]>();

/** Indices of the pixels within any mark. */
function pixelsOfMarks({ scene, shots }: SceneSet, lens: Eye): readonly number[] {
  const known = pixelLists.get(lens);
  if (known) return known;
  const { camera } = shots[lens];
  const theta = trueParameters(camera, shotTruth(scene, shots[lens]).photoFromChart);
  const indices: number[] = [];
  for (const mark of layoutChart(scene.aspect).marks) {
    const at = (dx: number, dy: number) =>
      locate(theta, camera, mark.eye === 'left' ? 0 : 8, { x: mark.x + dx, y: mark.y + dy });
    const c = at(0, 0);
    const [e, n] = [at(1e-4, 0), at(0, 1e-4)];
    const [xx, yx, xy, yy] = [e.x - c.x, e.y - c.y, n.x - c.x, n.y - c.y].map((v) => v / 1e-4);
    const determinant = xx * yy - xy * yx;
    const reach = Math.ceil(1.5 * mark.radius * Math.hypot(xx, yx));
    for (let y = Math.round(c.y) - reach; y <= c.y + reach; y++) {
      for (let x = Math.round(c.x) - reach; x <= c.x + reach; x++) {
        const [dx, dy] = [x - c.x, y - c.y];
        const distance = Math.hypot((yy * dx - xy * dy) / determinant, (xx * dy - yx * dx) / determinant);
        if (distance <= mark.radius) indices.push(y * camera.width_px + x);
      }
    }
  }
  pixelLists.set(lens, indices);
  return indices;
}

/**
 * Change of the light of each pixel of a mark with each parameter, for each photograph, from pictures rendered on both
 * sides of the truth. Without weave both photographs show the same pictures, only in different strength.
 */
function derivatives(set: SceneSet): Record<Eye, Matrix> {
  const shot = set.shots.left;
  const theta = trueParameters(shot.camera, shotTruth(set.scene, shot).photoFromChart);
  const indices = pixelsOfMarks(set, 'left');
  const matrices = { left: createMatrix(PARAMETERS, indices.length), right: createMatrix(PARAMETERS, indices.length) };
  // About a fiftieth of a pixel.
  const step = 4e-5;
  for (let k = 0; k < PARAMETERS; k++) {
    const h = k >= LENS_AT ? 20 * step : step;
    const eyes = k < 8 ? (['left'] as const) : k < LENS_AT ? (['right'] as const) : EYES;
    for (const eye of eyes) {
      const layer = (delta: number) =>
        layerWith(
          set,
          shot,
          theta.map((v, i) => (i === k ? v + delta : v)),
          eye,
        );
      const [plus, minus] = [layer(h), layer(-h)];
      for (const lens of EYES) {
        const strength = shotTruth(set.scene, set.shots[lens]).strength[eye];
        indices.forEach((at, i) => {
          matrices[lens].data[k * indices.length + i] += (strength * (plus.data[at] - minus.data[at])) / (2 * h);
        });
      }
    }
  }
  return matrices;
}

function layerWith(set: SceneSet, shot: Shot, theta: readonly number[], eye: Eye): Raster {
  const first = eye === 'left' ? 0 : 8;
  const frame = [...theta.slice(first, first + 8), 1] as unknown as Homography;
  const scale = Math.hypot(shot.camera.width_px, shot.camera.height_px) / 2;
  const [k1, k2, ox, oy] = theta.slice(LENS_AT);
  const distortion = {
    k1,
    k2,
    reference: 'half-diagonal' as const,
    centreOffset_px: { x: ox * scale, y: oy * scale },
  };
  const bent = { ...shot, camera: { ...shot.camera, distortion } };
  return renderPictureLayer(set.scene, bent, eye, { photoFromChart: compose(photoFromFrame(shot.camera), frame) });
}
