import { describe, expect, it } from 'vitest';
import { fitLeastSquares } from '../../src/kernel/least-squares.ts';
import { matrixFromRows, symmetricEigen } from '../../src/kernel/linear-algebra.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { chiSquaredUpperQuantile, erf, mean } from '../../src/kernel/statistics.ts';
import { collectCrossingPixels, type MarkFrame, predictFrame } from '../../src/vision/crossing-pixels.ts';
import { type FittedCrossing, fitCrossing } from '../../src/vision/fit-crossing.ts';
import {
  addNoise,
  lightOfMarks,
  markAtOrigin,
  obliqueView,
  photographMarks,
  pixelsOf,
  squareView,
  viewOf,
} from './photograph-marks.ts';

const mark = markAtOrigin('left', 0b1010110011010010);
const look = { blur_px: 1.1, dark: 0.008, contrast: 0.55 };

function frameOf(photo: Parameters<typeof viewOf>[0]): MarkFrame {
  return predictFrame(viewOf(photo), mark);
}

/** The light that the model describes, at the pixels' centres, around `shift` from the frame's centre. */
interface Model {
  readonly shift: Point;
  readonly phi: readonly [number, number];
  readonly blur: readonly [number, number];
  readonly dark: number;
  readonly contrast: number;
  readonly gradient: Point;
}

function modelLight(model: Model, x: number, y: number): number {
  const [d1, d2] = model.phi.map((phi) => Math.cos(phi) * (x - model.shift.x) + Math.sin(phi) * (y - model.shift.y));
  const edge = (d: number, s: number) => erf(d / s / Math.SQRT2);
  const pattern = (1 + edge(d1, model.blur[0]) * edge(d2, model.blur[1])) / 2;
  return model.dark + model.contrast * (1 + model.gradient.x * x + model.gradient.y * y) * pattern;
}

/** Normals of the edges of a frame, each towards the other edge. */
function normalsOf({ a1, a2 }: MarkFrame): [number, number] {
  const side = Math.sign(a1.x * a2.y - a1.y * a2.x);
  return [Math.atan2(side * a1.x, -side * a1.y), Math.atan2(-side * a2.x, side * a2.y)];
}

/** A crossing drawn by the model's own formula: pixels of no extent. */
function drawModel(size: number, centre: Point, model: Model): Float64Array {
  return Float64Array.from({ length: size * size }, (_, i) =>
    modelLight(model, (i % size) - centre.x, Math.floor(i / size) - centre.y),
  );
}

describe('fitCrossing on noise-free crossings of exact area coverage', () => {
  it('a crossing centred on pixel (10, 10) measures 10.000, 10.000', () => {
    const photo = { width: 21, height: 21, photoFromChart: squareView(350, { x: 10, y: 10 }), fineness: 8 };
    const frame = frameOf(photo);
    const start = { ...frame, centre: { x: 10.2, y: 9.85 } };
    const pixels = photographMarks([mark], { ...photo, ...look, blur_px: 0.7 });
    const fit = fitCrossing(collectCrossingPixels(pixels, start, 0.7)!, start, 0.7, 3)!;
    expect(start.centre.x + fit.shift.x).toBeCloseTo(10, 3);
    expect(start.centre.y + fit.shift.y).toBeCloseTo(10, 3);
  });

  it.each([
    // As measureMarks fits once it knows the blur, and as it does before: up to half a time wrong, and a pixel away.
    { name: 'blur known', expected: (blur: number) => blur, off: 0.5, within_px: 0.002, bias_px: 3e-4 },
    { name: 'blur guessed', expected: () => 1.2, off: 1, within_px: 0.006, bias_px: 1e-3 },
  ])(
    'finds fifty crossings at random places, turns and obliquities: $name',
    ({ expected, off, within_px, bias_px }) => {
      const random = createRandom(11);
      const errors = Array.from({ length: 50 }, (_, i) => {
        const centre = { x: 45 + random.uniform(), y: 45 + random.uniform() };
        const tilt_deg = random.between(0, 50);
        const photoFromChart = obliqueView(
          random.between(900, 1300),
          centre,
          tilt_deg,
          random.between(0, 360),
          random.between(0, 360),
        );
        const blur_px = random.between(0.6, 1.8);
        // The pixels' own extent adds the variance of a uniform distribution.
        const seenBlur_px = Math.hypot(blur_px, Math.sqrt(1 / 12));
        const photo = { width: 91, height: 91, photoFromChart, ...look, blur_px, fineness: 6 };
        const guess = { x: centre.x + random.between(-off, off), y: centre.y + random.between(-off, off) };
        const frame = { ...frameOf(photo), centre: guess };
        const pixels = collectCrossingPixels(photographMarks([mark], photo), frame, expected(seenBlur_px))!;
        const fit = fitCrossing(pixels, frame, expected(seenBlur_px), 5);
        expect(fit, `crossing ${i}`).toBeDefined();
        expect(Math.abs(fit!.blur[0] / seenBlur_px - 1)).toBeLessThan(0.01);
        expect(Math.abs(fit!.blur[1] / seenBlur_px - 1)).toBeLessThan(0.01);
        expect(Math.abs(fit!.contrast / look.contrast - 1)).toBeLessThan(tilt_deg < 30 ? 0.003 : 0.006);
        return { x: guess.x + fit!.shift.x - centre.x, y: guess.y + fit!.shift.y - centre.y };
      });
      expect(Math.max(...errors.map(({ x, y }) => Math.hypot(x, y)))).toBeLessThan(within_px);
      // Fifty errors of that size about zero have a mean some seven times smaller.
      expect(Math.abs(mean(errors.map(({ x }) => x)))).toBeLessThan(bias_px);
      expect(Math.abs(mean(errors.map(({ y }) => y)))).toBeLessThan(bias_px);
    },
  );

  it('a gradient of the light across the crossing does not move it', () => {
    const centre = { x: 45.3, y: 44.8 };
    const photo = { width: 91, height: 91, photoFromChart: squareView(1200, centre, 20), ...look, fineness: 6 };
    const light = lightOfMarks([mark], photo).map((v, i) => v * (1 + 0.004 * ((i % 91) - 45)));
    const frame = frameOf(photo);
    const fit = fitCrossing(collectCrossingPixels(pixelsOf(light, 91, 91), frame, 1.1)!, frame, 1.1, 5)!;
    expect(Math.hypot(fit.shift.x, fit.shift.y)).toBeLessThan(0.003);
  });
});

describe('fitCrossing on light of its own model', () => {
  const centre = { x: 40.37, y: 39.71 };
  const size = 81;
  const frame = {
    ...frameOf({ width: size, height: size, photoFromChart: obliqueView(1200, centre, 30, 40, 15) }),
    centre,
  };
  const [phi1, phi2] = normalsOf(frame);
  const model: Model = {
    shift: { x: 0.31, y: -0.22 },
    phi: [phi1 + 0.01, phi2 - 0.008],
    blur: [1.3, 0.9],
    dark: 0.01,
    contrast: 0.5,
    gradient: { x: 0.002, y: -0.001 },
  };

  it('gives all parameters back', () => {
    const fit = fitCrossing(
      collectCrossingPixels(pixelsOf(drawModel(size, centre, model), size, size), frame, 1.2)!,
      frame,
      1.2,
      5,
    )!;
    expect(fit.shift.x).toBeCloseTo(model.shift.x, 4);
    expect(fit.shift.y).toBeCloseTo(model.shift.y, 4);
    expect(fit.blur[0]).toBeCloseTo(model.blur[0], 3);
    expect(fit.blur[1]).toBeCloseTo(model.blur[1], 3);
    expect(fit.dark).toBeCloseTo(model.dark, 4);
    // The gradient is counted from the frame's centre, the contrast too.
    expect(fit.contrast).toBeCloseTo(model.contrast, 4);
    expect(fit.edgeTurn).toBeCloseTo(0.01, 3);
    expect(fit.misfit).toBeLessThan(1e-4);
  });

  it('stops where a general solver with its own derivatives stops', () => {
    const light = addNoise(drawModel(size, centre, model), { floor: 0.01, photon: 0 }, 3);
    const pixels = collectCrossingPixels(
      pixelsOf(
        light.map((v) => v + 0.1),
        size,
        size,
      ),
      frame,
      1.2,
    )!;
    const fit = fitCrossing(pixels, frame, 1.2, 5)!;
    const referee = fitLeastSquares({
      start: [0, 0, phi1, phi2, 1.2, 1.2, 0.1, 0.5, 0, 0],
      typicalSize: [1, 1, 1, 1, 1, 1, 0.1, 0.1, 0.01, 0.01],
      residualCount: pixels.count,
      writeResiduals(p, out) {
        const at: Model = {
          shift: { x: p[0], y: p[1] },
          phi: [p[2], p[3]],
          blur: [p[4], p[5]],
          dark: p[6],
          contrast: p[7],
          gradient: { x: p[8], y: p[9] },
        };
        for (let k = 0; k < pixels.count; k++) {
          out[k] = modelLight(at, pixels.x[k], pixels.y[k]) - pixels.light[k];
        }
      },
    });
    if (referee.outcome === 'refused') throw new Error(referee.code);
    // The same noise everywhere, so the weights are nearly alike; they come from some hundred pixels each.
    expect(Math.abs(fit.shift.x - referee.parameters[0])).toBeLessThan(0.1 * Math.sqrt(fit.covariance[0]));
    expect(Math.abs(fit.shift.y - referee.parameters[1])).toBeLessThan(0.1 * Math.sqrt(fit.covariance[2]));
    const variance = referee.covariance.data[0] * 0.01 ** 2;
    expect(fit.covariance[0] / variance).toBeGreaterThan(0.8);
    expect(fit.covariance[0] / variance).toBeLessThan(1.3);
  });
});

describe('fitCrossing under noise', () => {
  const RUNS = 400;
  /** Four deviations of a mean of squares, whose variance is 2 / n. */
  const REACH = 4 * Math.sqrt(2 / RUNS);
  /** The covariance follows excess on the edges but never falls below the noise in the quadrants: some percent too large. */
  const ROOM = 1.12;

  interface Trial {
    readonly noise: { readonly floor: number; readonly photon: number };
    readonly tilt_deg: number;
  }
  const trials: (Trial & { name: string })[] = [
    { name: 'the same noise everywhere', noise: { floor: 0.012, photon: 0 }, tilt_deg: 45 },
    { name: 'photon noise', noise: { floor: 0.002, photon: 4e-4 }, tilt_deg: 0 },
  ];

  function fitMany({ noise, tilt_deg }: Trial): { readonly clean: FittedCrossing; readonly fits: FittedCrossing[] } {
    const centre = { x: 32.2, y: 31.6 };
    const photoFromChart = obliqueView(900, centre, tilt_deg, 30, 40);
    // A ground above black, so that noise is not clipped at zero.
    const photo = { width: 65, height: 65, photoFromChart, ...look, dark: 0.08, fineness: 8 };
    const light = lightOfMarks([mark], photo);
    const frame = frameOf(photo);
    const fit = (lit: ArrayLike<number>) =>
      fitCrossing(collectCrossingPixels(pixelsOf(lit, 65, 65), frame, 1.1)!, frame, 1.1, 5)!;
    const fits = Array.from({ length: RUNS }, (_, i) => fit(addNoise(light, noise, i + 1)));
    return { clean: fit(light), fits };
  }

  const outcomes = trials.map((trial) => ({ ...trial, ...fitMany(trial) }));

  it.each(outcomes)(
    '$name: centres err as much as their covariances say, in every direction, without bias',
    ({ clean, fits }) => {
      // Errors whitened with their own covariance: z z^T has the mean 1 where the covariances are true.
      const second = [0, 0, 0];
      let squares = 0;
      for (const { shift, covariance } of fits) {
        const [xx, xy, yy] = covariance;
        const [ex, ey] = [shift.x - clean.shift.x, shift.y - clean.shift.y];
        const z1 = ex / Math.sqrt(xx);
        const z2 = (ey - (xy / xx) * ex) / Math.sqrt(yy - (xy * xy) / xx);
        second[0] += (z1 * z1) / RUNS;
        second[1] += (z1 * z2) / RUNS;
        second[2] += (z2 * z2) / RUNS;
        squares += z1 * z1 + z2 * z2;
      }
      expect(squares).toBeLessThan(chiSquaredUpperQuantile(0.001, 2 * RUNS));
      expect(squares).toBeGreaterThan(chiSquaredUpperQuantile(0.999, 2 * RUNS) / ROOM);
      const { values } = symmetricEigen(
        matrixFromRows([
          [second[0], second[1]],
          [second[1], second[2]],
        ]),
      );
      expect(values[0]).toBeLessThan(1 + REACH);
      expect(values[1]).toBeGreaterThan((1 - REACH) / ROOM);
      for (const [axis, element] of [
        ['x', 0],
        ['y', 2],
      ] as const) {
        const u = Math.sqrt(mean(fits.map(({ covariance }) => covariance[element])) / RUNS);
        expect(Math.abs(mean(fits.map(({ shift }) => shift[axis] - clean.shift[axis])))).toBeLessThan(4 * u);
      }
    },
  );

  // Pixels thinned out four to one are counted as four in the contrast's uncertainty.
  it.each(outcomes)('$name: contrasts err as much as their uncertainty says', ({ clean, fits }) => {
    const square = mean(fits.map(({ contrast, contrastU }) => ((contrast - clean.contrast) / contrastU) ** 2));
    expect(square).toBeLessThan(1 + REACH);
    expect(square).toBeGreaterThan((1 - REACH) / ROOM);
  });
});

describe('fitCrossing gives nothing', () => {
  const centre = { x: 32, y: 32 };
  const photo = { width: 65, height: 65, photoFromChart: squareView(900, centre), ...look, fineness: 3 };
  const frame = frameOf(photo);

  it('for a centre out of reach', () => {
    const away = { ...frame, centre: { x: 36, y: 32 } };
    const pixels = collectCrossingPixels(photographMarks([mark], photo), away, 1.1)!;
    expect(fitCrossing(pixels, away, 1.1, 2)).toBeUndefined();
    expect(fitCrossing(pixels, away, 1.1, 6)).toBeDefined();
  });

  it('for the wrong eye’s pattern, bright where it should be dark', () => {
    const wrong = { centre, a1: { x: frame.a2.x, y: frame.a2.y }, a2: { x: -frame.a1.x, y: -frame.a1.y } };
    expect(
      fitCrossing(collectCrossingPixels(photographMarks([mark], photo), wrong, 1.1)!, wrong, 1.1, 5),
    ).toBeUndefined();
  });

  it('for an even ground', () => {
    const flat = pixelsOf(new Float64Array(65 * 65).fill(0.2), 65, 65);
    const fit = fitCrossing(collectCrossingPixels(flat, frame, 1.1)!, frame, 1.1, 5);
    // Rounding may leave a contrast of nothing; it is never a significant one.
    expect(fit === undefined || !(fit.contrast > 1e-4)).toBe(true);
  });
});
