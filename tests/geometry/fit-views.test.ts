import { describe, expect, it } from 'vitest';
import {
  type FittedViews,
  fitViews,
  LENS_PARAMETERS,
  LENS_PRIOR,
  predict,
  type SeenMark,
  writeDerivatives,
} from '../../src/geometry/fit-views.ts';
import { measureMisalignment } from '../../src/geometry/measure-misalignment.ts';
import { TERMS } from '../../src/geometry/misalignment.ts';
import type { Homography } from '../../src/kernel/homography.ts';
import { createMatrix, elementAt, type Matrix } from '../../src/kernel/linear-algebra.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { mean } from '../../src/kernel/statistics.ts';
import { plainLens, project } from '../../src/kernel/view.ts';
import { misalignmentTruth } from '../../src/scene/truth.ts';
import { expectJacobian } from '../kernel/check-jacobian.ts';
import { ASPECT, eyesOf, LENS, OBLIQUE, PHOTO, seeMarks } from './misaligned-views.ts';

const eyes = eyesOf(OBLIQUE, [1.003, -0.002, -0.004, 0.003, 0.998, 0.0045, 0.001, -0.001, 1]);

function fit(marks: readonly SeenMark[], earlier?: FittedViews): FittedViews {
  const result = fitViews(marks, PHOTO, earlier);
  if (result.outcome === 'refused') throw new Error(`${result.code} ${JSON.stringify(result.facts)}`);
  return result;
}

function pairOf(views: FittedViews) {
  const covariance: Matrix = createMatrix(16, 16);
  for (let r = 0; r < 16; r++)
    for (let c = 0; c < 16; c++) covariance.data[r * 16 + c] = elementAt(views.covariance, r, c);
  return { left: views.scaledHomographies.left!, right: views.scaledHomographies.right!, covariance };
}

describe('fitViews on exact marks', () => {
  const marks = seeMarks(eyes, LENS);
  const views = fit(marks);

  it('gives back where every point of both pictures is seen, far below a thousandth of a pixel', () => {
    for (const eye of ['left', 'right'] as const) {
      for (const at of [
        { x: 0, y: 0 },
        { x: 1.175, y: 0.5 },
        { x: -1.175, y: 0.5 },
        { x: 1.175, y: -0.5 },
      ]) {
        const seen = project(views.views[eye]!, at);
        const truth = project({ photoFromChart: eyes[eye], lens: LENS }, at);
        expect(Math.hypot(seen.x - truth.x, seen.y - truth.y)).toBeLessThan(1e-4);
      }
    }
  });

  it('gives back k1, k2 and the centre of distortion', () => {
    const { lens } = views.views.left!;
    expect(lens.k1).toBeCloseTo(LENS.k1, 5);
    expect(lens.k2).toBeCloseTo(LENS.k2, 5);
    expect(lens.centre.x).toBeCloseTo(LENS.centre.x, 1);
    expect(lens.centre.y).toBeCloseTo(LENS.centre.y, 1);
    expect(lens.radius_px).toBe(LENS.radius_px);
    expect(views.views.right!.lens).toEqual(lens);
  });

  it('uses every mark, leaves nothing over, and names both eyes', () => {
    expect(views.eyes).toEqual(['left', 'right']);
    expect(views.used.every(Boolean)).toBe(true);
    expect(Math.max(...views.residuals.map(({ x, y }) => Math.hypot(x, y)))).toBeLessThan(1e-4);
    // No scatter at all is not believed.
    expect(views.scatter).toBeCloseTo(0.8, 12);
    expect(views.redundancy).toBeGreaterThan(2 * marks.length - 16 - 4 - 1);
  });

  it('measures the misalignment that the views have', () => {
    const truth = misalignmentTruth(eyes.left, eyes.right, ASPECT);
    const measured = measureMisalignment(pairOf(views), ASPECT);
    for (const term of TERMS) expect(Math.abs(measured.terms[term].value - truth.terms[term])).toBeLessThan(1e-6);
  });

  it('fits one eye alone', () => {
    const alone = fit(marks.filter(({ eye }) => eye === 'right'));
    expect(alone.eyes).toEqual(['right']);
    expect(alone.views.left).toBeUndefined();
    expect(alone.covariance.rows).toBe(12);
    const seen = project(alone.views.right!, { x: 0.5, y: 0.2 });
    const truth = project({ photoFromChart: eyes.right, lens: LENS }, { x: 0.5, y: 0.2 });
    expect(Math.hypot(seen.x - truth.x, seen.y - truth.y)).toBeLessThan(1e-3);
  });

  it('from an earlier fit comes to the same end', () => {
    const again = fitViews(marks, PHOTO, views);
    if (again.outcome === 'refused') throw new Error(again.code);
    for (const [i, p] of again.parameters.entries()) expect(p).toBeCloseTo(views.parameters[i], 9);
    const alone = fitViews(
      marks.filter(({ eye }) => eye === 'right'),
      PHOTO,
      views,
    );
    expect(alone.outcome).toBe('estimated');
  });

  it('residuals are seen minus predicted, photo px', () => {
    const scattered = seeMarks(eyes, LENS, { random: createRandom(9), sigma_px: [0.03, 0.01], turn: 0.6 });
    const result = fit(scattered);
    scattered.forEach(({ eye, at, seen }, i) => {
      const predicted = project(result.views[eye]!, at);
      expect(result.residuals[i].x).toBeCloseTo(seen.x - predicted.x, 6);
      expect(result.residuals[i].y).toBeCloseTo(seen.y - predicted.y, 6);
    });
  });
});

describe('fitViews under noise', () => {
  const RUNS = 200;
  const exact = fit(seeMarks(eyes, LENS));
  const truth = misalignmentTruth(eyes.left, eyes.right, ASPECT);

  it.each([
    { name: 'as large as the marks say', sigma: [0.03, 0.012] as const, said: 1, scatter: [0.95, 1.06] },
    { name: 'three times as large as the marks say', sigma: [0.03, 0.012] as const, said: 1 / 3, scatter: [2.7, 3.2] },
  ])('errors $name: of 200 readings all eight terms err as much as they say', ({ sigma, said, scatter }) => {
    const squares = TERMS.map(() => 0);
    const errors = TERMS.map(() => 0);
    const scatters: number[] = [];
    let worst = 0;
    for (let seed = 1; seed <= RUNS; seed++) {
      const marks = seeMarks(eyes, LENS, { random: createRandom(seed), sigma_px: sigma, turn: 0.5 }).map((mark) => ({
        ...mark,
        covariance: mark.covariance.map((v) => v * said * said) as unknown as SeenMark['covariance'],
      }));
      const views = fit(marks, exact);
      scatters.push(views.scatter);
      const { terms, worstVertical } = measureMisalignment(pairOf(views), ASPECT);
      TERMS.forEach((term, i) => {
        const z = (terms[term].value - truth.terms[term]) / terms[term].u;
        squares[i] += (z * z) / RUNS;
        errors[i] += z / RUNS;
      });
      worst += ((worstVertical.value - Math.abs(truth.worstVertical.value)) / worstVertical.u) ** 2 / RUNS;
    }
    // Nine samples, each within four deviations of a mean of squares; Tukey's weights cost a few percent.
    const reach = 4 * Math.sqrt(2 / RUNS);
    [...squares, worst].forEach((square, i) => {
      expect(square, TERMS[i] ?? 'worst').toBeGreaterThan(1 - reach);
      expect(square, TERMS[i] ?? 'worst').toBeLessThan(1 + reach);
    });
    for (const error of errors) expect(Math.abs(error)).toBeLessThan(4 / Math.sqrt(RUNS));
    expect(mean(scatters)).toBeGreaterThan(scatter[0]);
    expect(mean(scatters)).toBeLessThan(scatter[1]);
  });

  it('believes no scatter below four fifths of what the marks say', () => {
    const noisy = fit(seeMarks(eyes, LENS, { random: createRandom(1), sigma_px: [0.01, 0.01], turn: 0 }));
    // The same covariances of 0.01 px, one fit with no scatter at all.
    for (let k = 0; k < 20; k++) {
      const ratio = elementAt(exact.covariance, k, k) / elementAt(noisy.covariance, k, k);
      expect(ratio).toBeGreaterThan(0.8 * (0.8 / noisy.scatter) ** 2);
    }
  });
});

describe('fitViews with outliers', () => {
  const clean = seeMarks(eyes, LENS, { random: createRandom(5), sigma_px: [0.02, 0.02], turn: 0 });
  const wrong = new Set([3, 20, 41, 42, 60, 77]);
  const spoilt = clean.map((mark, i) =>
    wrong.has(i) ? { ...mark, seen: { x: mark.seen.x + 0.5 + 0.1 * i, y: mark.seen.y - 3 } } : mark,
  );

  it('leaves them out and no others', () => {
    const { used } = fit(spoilt);
    expect(used.map((u, i) => (u ? -1 : i)).filter((i) => i >= 0)).toEqual([...wrong]);
  });

  it('lets them move nothing: half a mark’s own uncertainty at most', () => {
    const [with_, without] = [fit(spoilt), fit(clean)];
    for (const eye of ['left', 'right'] as const) {
      const [a, b] = [with_, without].map(({ views }) => project(views[eye]!, { x: 0.4, y: 0.2 }));
      expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeLessThan(0.01);
    }
  });

  it('sorts out marks of wrong identity, which miss by hundreds of pixels', () => {
    const confused = clean.map((mark, i) => (i % 7 === 0 ? { ...mark, at: clean[(i + 14) % clean.length].at } : mark));
    const { used, views } = fit(confused);
    expect(used).toEqual(confused.map((_, i) => i % 7 !== 0));
    const seen = project(views.left!, { x: 0, y: 0 });
    const truth = project({ photoFromChart: eyes.left, lens: LENS }, { x: 0, y: 0 });
    expect(Math.hypot(seen.x - truth.x, seen.y - truth.y)).toBeLessThan(0.05);
  });
});

describe('fitViews refuses', () => {
  const marks = seeMarks(eyes, plainLens(PHOTO.width, PHOTO.height));
  const left = marks.filter(({ eye }) => eye === 'left');
  const right = marks.filter(({ eye }) => eye === 'right');

  it('three marks of an eye', () => {
    for (const few of [left.slice(0, 3), [...left, ...right.slice(0, 3)]]) {
      expect(fitViews(few, PHOTO)).toMatchObject({ outcome: 'refused', code: 'too-few-observations' });
    }
  });

  it('no marks at all', () => {
    expect(fitViews([], PHOTO)).toMatchObject({
      outcome: 'refused',
      code: 'too-few-observations',
      facts: { observations: 0 },
    });
  });

  it('marks that all stand in one row', () => {
    const row = left.filter(({ at }) => Math.abs(at.y - left[0].at.y) < 1e-9);
    expect(row.length).toBeGreaterThanOrEqual(4);
    expect(fitViews(row, PHOTO)).toMatchObject({ outcome: 'refused', code: 'too-few-observations' });
  });

  it('places that are not numbers', () => {
    const broken = left.map((mark) => ({ ...mark, seen: { x: Number.NaN, y: 5 } }));
    expect(fitViews(broken, PHOTO).outcome).toBe('refused');
  });

  it('but fits four marks of each eye: the prior knows enough of the lens', () => {
    const corners = (own: SeenMark[]) => [own[0], own[5], own[own.length - 6], own[own.length - 1]];
    const result = fitViews([...corners(left), ...corners(right)], PHOTO);
    expect(result.outcome).toBe('estimated');
  });
});

it('a homography is given in photo px and, for the misalignment, in a scaled frame: both show the same', () => {
  const { views, scaledHomographies } = fit(seeMarks(eyes, LENS));
  const h: Homography = views.right!.photoFromChart;
  const s = scaledHomographies.right!;
  const at = { x: 0.7, y: -0.2 };
  const w = (m: Homography) => m[6] * at.x + m[7] * at.y + m[8];
  const x = (h[0] * at.x + h[1] * at.y + h[2]) / w(h);
  const scaled = (s[0] * at.x + s[1] * at.y + s[2]) / w(s);
  expect(x).toBeCloseTo((PHOTO.width - 1) / 2 + (scaled * Math.hypot(PHOTO.width, PHOTO.height)) / 2, 9);
});

const left = [0.8, 0.03, 0.02, 0.05, -0.79, -0.01, 0.04, -0.02];
const right = [0.81, 0.02, 0.03, 0.04, -0.8, -0.02, 0.03, -0.01];
const lens = [0.07, -0.03, 0.012, -0.008];
const parameters = [...left, ...right, ...lens];
const places = [
  { x: 0, y: 0 },
  { x: 1.1, y: 0.45 },
  { x: -1.1, y: 0.4 },
  { x: 0.3, y: -0.48 },
];

describe('predict', () => {
  it('is the view of kernel/view.ts in a frame of half the diagonal', () => {
    for (const [first, h] of [
      [0, left],
      [8, right],
    ] as const) {
      const view = {
        photoFromChart: [...h, 1] as unknown as Parameters<typeof project>[0]['photoFromChart'],
        lens: { centre: { x: lens[2], y: lens[3] }, radius_px: 1, k1: lens[0], k2: lens[1] },
      };
      for (const at of places) {
        const seen = predict(parameters, first, 16, at);
        expect(seen.x).toBeCloseTo(project(view, at).x, 14);
        expect(seen.y).toBeCloseTo(project(view, at).y, 14);
      }
    }
  });
});

describe('writeDerivatives', () => {
  it.each([0, 8])('agrees with differences of predict, homography from parameter %d on', (first) => {
    expectJacobian(
      {
        residualCount: 2 * places.length,
        writeResiduals(p, out) {
          for (const [i, at] of places.entries()) {
            const { x, y } = predict(p, first, 16, at);
            out[2 * i] = x;
            out[2 * i + 1] = y;
          }
        },
        writeJacobian(p, jacobian) {
          for (const [i, at] of places.entries()) writeDerivatives(p, first, 16, at, jacobian, 2 * i);
        },
      },
      parameters,
    );
  });
});

it('every lens parameter has a prior', () => {
  expect(LENS_PRIOR).toHaveLength(LENS_PARAMETERS);
  expect(LENS_PRIOR.every((sigma) => sigma > 0)).toBe(true);
});
