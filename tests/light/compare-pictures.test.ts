import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { mean } from '../../src/kernel/statistics.ts';
import { compareStrength, fitStrength, type MarkStrength, meanStrength } from '../../src/light/compare-pictures.ts';
import { layoutChart } from '../../src/target/chart.ts';

const { marks } = layoutChart();
const leftAt = marks.filter(({ eye }) => eye === 'left');
const rightAt = marks.filter(({ eye }) => eye === 'right');

/** A hot spot beside the middle, twice as wide as high, turned: Gaussian, from 0.6 down to a few percent. */
function lobe({ x, y }: Point): number {
  const u = 0.9 * (x - 0.2) + 0.3 * (y + 0.1);
  const v = -0.3 * (x - 0.2) + 0.9 * (y + 0.1);
  return 0.6 * Math.exp((-u * u) / 1.1 - (v * v) / 0.4);
}

function strengths(
  places: readonly Point[],
  lightAt: (p: Point) => number,
  relativeU: number,
  seed?: number,
): MarkStrength[] {
  const random = createRandom(seed ?? 1);
  return places.map((at) => {
    const light = lightAt(at);
    const contrastU = relativeU * light;
    return { at, contrast: light + (seed === undefined ? 0 : contrastU * random.normal()), contrastU };
  });
}

describe('fitStrength', () => {
  it('is exact for a lobe of Gaussian shape, between the marks and at the corners', () => {
    const surface = fitStrength(strengths(leftAt, lobe, 0.01))!;
    for (const at of [...rightAt, { x: 1.175, y: 0.5 }, { x: -1.175, y: -0.5 }]) {
      expect(surface.strengthAt(at) / lobe(at)).toBeCloseTo(1, 9);
    }
    expect(surface.scatter).toBeLessThan(1e-9);
  });

  it('is exact from six marks that spread, and gives nothing for five', () => {
    const six = [0, 7, 20, 25, 40, 47].map((i) => leftAt[i]);
    expect(fitStrength(strengths(six, lobe, 0.01))!.strengthAt({ x: 0, y: 0 }) / lobe({ x: 0, y: 0 })).toBeCloseTo(
      1,
      6,
    );
    expect(fitStrength(strengths(six.slice(1), lobe, 0.01))).toBeUndefined();
  });

  it('gives nothing for marks in one row, and does not count dark ones', () => {
    const row = strengths(
      Array.from({ length: 9 }, (_, i) => ({ x: 0.1 * i, y: 0 })),
      lobe,
      0.01,
    );
    expect(fitStrength(row)).toBeUndefined();
    const dark = strengths(leftAt, () => 0, 0.01);
    expect(fitStrength(dark)).toBeUndefined();
    const some = [...strengths(leftAt, lobe, 0.01), { at: { x: 0, y: 0 }, contrast: -0.01, contrastU: 0.01 }];
    expect(fitStrength(some)!.strengthAt({ x: 0, y: 0 }) / lobe({ x: 0, y: 0 })).toBeCloseTo(1, 9);
  });

  it('says by how much the marks scatter about it', () => {
    const surface = fitStrength(strengths(leftAt, lobe, 0.03, 5))!;
    expect(surface.scatter).toBeGreaterThan(0.02);
    expect(surface.scatter).toBeLessThan(0.04);
  });
});

describe('compareStrength', () => {
  const surface = fitStrength(strengths(leftAt, lobe, 0.001))!;
  const NOTHING_COMMON = 0;

  it.each([0.005, 0.02, 0.3, 1])('gives a ratio of %d exactly, wherever the marks stand in the hot spot', (ratio) => {
    const { value } = compareStrength(
      strengths(rightAt, (p) => ratio * lobe(p), 0.01),
      surface,
      NOTHING_COMMON,
    );
    expect(value / ratio).toBeCloseTo(1, 9);
  });

  it('leaves a mark with a reflection on it out', () => {
    const weak = strengths(rightAt, (p) => 0.02 * lobe(p), 0.02, 3);
    const spoilt = weak.map((mark, i) => (i === 10 ? { ...mark, contrast: 0.5 } : mark));
    const [clean, spoiltResult] = [weak, spoilt].map((sample) => compareStrength(sample, surface, NOTHING_COMMON));
    expect(Math.abs(spoiltResult.value - clean.value)).toBeLessThan(0.5 * clean.u);
  });

  it.each([
    { name: 'marks that are sharp', ratio: 0.02, relativeU: 0.03 },
    { name: 'a leak lost in the noise of each mark', ratio: 0.002, relativeU: 1.5 },
  ])(
    'of 400 comparisons the true ratio lies within u about two times in three or more: $name',
    ({ ratio, relativeU }) => {
      const inside = { one: 0, two: 0 };
      const errors: number[] = [];
      for (let seed = 1; seed <= 400; seed++) {
        const stronger = fitStrength(strengths(leftAt, lobe, 0.01, 10_000 + seed))!;
        const { value, u } = compareStrength(
          strengths(rightAt, (p) => ratio * lobe(p), relativeU, seed),
          stronger,
          NOTHING_COMMON,
        );
        if (Math.abs(value - ratio) <= u) inside.one++;
        if (Math.abs(value - ratio) <= 2 * u) inside.two++;
        errors.push((value - ratio) / u);
      }
      // It may say too much (a percent is always added, and the marks' scatter to their uncertainties), never too little:
      // 68.3 % and 95.4 % less three deviations.
      expect(inside.one / 400).toBeGreaterThan(0.683 - 0.07);
      expect(inside.two / 400).toBeGreaterThan(0.954 - 0.031);
      expect(mean(errors.map((z) => z * z))).toBeGreaterThan(0.1);
      expect(Math.abs(mean(errors))).toBeLessThan(4 / Math.sqrt(400));
    },
  );

  it('may come out negative by noise, and says that this is nothing', () => {
    const results = Array.from({ length: 40 }, (_, seed) =>
      compareStrength(
        strengths(rightAt, lobe, 0.02, seed + 1).map((mark) => ({ ...mark, contrast: mark.contrast - lobe(mark.at) })),
        surface,
        NOTHING_COMMON,
      ),
    );
    expect(results.some(({ value }) => value < 0)).toBe(true);
    for (const { value, u } of results) expect(Math.abs(value)).toBeLessThan(4 * u);
  });

  it('knows less where all contrasts may be off alike', () => {
    const weak = strengths(rightAt, (p) => 0.004 * lobe(p), 0.001);
    const fine = compareStrength(weak, surface, 0);
    const coarse = compareStrength(weak, surface, 1.2e-4);
    expect(coarse.value).toBe(fine.value);
    const usual = rightAt.map((p) => lobe(p)).sort((a, b) => a - b)[Math.floor(rightAt.length / 2)];
    expect(Math.sqrt(coarse.u ** 2 - fine.u ** 2) / (1.2e-4 / usual)).toBeCloseTo(1, 1);
  });
});

describe('meanStrength', () => {
  it('is the mean with the uncertainty of a mean', () => {
    const sample = [1, 2, 3, 6].map((contrast) => ({ at: { x: 0, y: 0 }, contrast, contrastU: 0.2 }));
    expect(meanStrength(sample).value).toBe(3);
    expect(meanStrength(sample).u).toBeCloseTo(0.1, 12);
  });

  it('is nothing for no marks', () => expect(meanStrength([])).toEqual({ value: 0, u: 0 }));
});
