import { describe, expect, it } from 'vitest';
import {
  COLUMNS,
  forecastLight,
  LIGHT_FAULTS,
  TYPICAL_LIGHT,
  combineStates,
  changedLight,
  compressMeasured,
  compressRatio,
  nodeAt,
  predictTransmittance,
  RIGHT_LIGHT,
  ratioAbove,
  slopeAt,
} from '../../src/diagnosis/forecast-light.ts';
import { predictLeaks } from '../../src/light/explain-leaks.ts';

const column = (rows: Float64Array, at: number) => rows.filter((_, i) => i % COLUMNS === at);

describe('forecastLight', () => {
  const forecasts = forecastLight();

  it('each forecast has weights that sum to 1, and numbers throughout', () => {
    for (const { rows } of forecasts) {
      expect(column(rows, 4).reduce((total, weight) => total + weight, 0)).toBeCloseTo(1, 12);
      expect(rows.every(Number.isFinite)).toBe(true);
    }
  });

  it('nothing wrong: the usual floor over the signal in one lens, its inverse in the other', () => {
    const { faults, rows } = forecasts[0]!;
    expect(faults).toEqual([]);
    const middle = Array.from(rows.subarray(COLUMNS, 2 * COLUMNS));
    // floor = leak over signal; z is its logarithm, blunt below 0.0005
    const { floor } = TYPICAL_LIGHT;
    expect(middle[0]).toBeCloseTo(Math.log((floor + 0.0005) / (1 + 0.0005 * floor)), 1);
    expect(middle[1]).toBeCloseTo(-middle[0]!, 12);
  });

  it('every fault stands alone once, and no pair twice', () => {
    const alone = forecasts.filter(({ faults }) => faults.length === 1);
    expect(alone).toHaveLength(LIGHT_FAULTS.length);
    const pairs = forecasts.filter(({ faults }) => faults.length === 2).map(({ faults }) => new Set(faults));
    expect(pairs.every((pair) => pair.size === 2)).toBe(true);
    const names = pairs.map((pair) => [...pair].map((fault) => LIGHT_FAULTS.indexOf(fault)).join());
    expect(new Set(names).size).toBe(pairs.length);
    expect(pairs.length).toBeGreaterThan(50);
  });

  it('is reckoned once', () => expect(forecastLight()).toBe(forecasts));
});

const any = { kind: 'log-uniform', low: 1, high: 2 } as const;
const ratio = (state: typeof RIGHT_LIGHT, lens: 'left' | 'right', floor = 0) =>
  ratioAbove(floor, predictTransmittance(state, 'right', lens), predictTransmittance(state, 'left', lens));

describe('what the camera sees', () => {
  it('of a turned polarizer is what the laws of the leaks say', () => {
    const turned = changedLight({ what: 'picture-turned', by_deg: any }, 12, 'right');
    const expected = predictLeaks({ picture_deg: { right: 12 } });
    expect(ratio(turned, 'left')).toBeCloseTo(expected.left, 12);
    expect(1 / ratio(turned, 'right')).toBeCloseTo(expected.right, 12);
  });

  it('of tilted glasses is tan^2 through both lenses: 3.109 % at 10 degrees', () => {
    const tilted = changedLight({ what: 'all-turned', by_deg: any }, 10);
    expect(ratio(tilted, 'left')).toBeCloseTo(0.03109, 5);
    expect(1 / ratio(tilted, 'right')).toBeCloseTo(0.03109, 5);
  });

  it('of a screen that depolarizes completely is both pictures alike', () => {
    const matte = changedLight({ what: 'light-depolarized', part: any }, 1);
    expect(ratio(matte, 'left')).toBeCloseTo(1, 12);
    // 13 %: (0.13 / 2) / (1 - 0.13 / 2).
    const dull = changedLight({ what: 'light-depolarized', part: any }, 0.13);
    expect(ratio(dull, 'left')).toBeCloseTo(0.065 / 0.935, 12);
  });

  it('is the same whether the floor is a change or laid on afterwards', () => {
    const turned = changedLight({ what: 'lens-turned', by_deg: any }, 8, 'left');
    const both = combineStates(turned, changedLight({ what: 'light-depolarized', part: any }, 0.02));
    for (const lens of ['left', 'right'] as const) expect(ratio(turned, lens, 0.02)).toBeCloseTo(ratio(both, lens), 12);
  });

  it('of exchanged eyes is the other ratio; an exchange undone is none', () => {
    const exchanged = changedLight({ what: 'exchanged' }, 0);
    expect(ratio(exchanged, 'left', 0.01)).toBeCloseTo(ratio(RIGHT_LIGHT, 'right', 0.01), 12);
    expect(combineStates(exchanged, exchanged).exchanged).toBe(false);
  });
});

describe('ratios of many decades', () => {
  it.each([1e-3, 0.02, 0.7, 1])('are odd: z(1/r) = -z(r) at %s', (r) => {
    expect(compressRatio(1 / r)).toBeCloseTo(-compressRatio(r), 10);
  });

  it('have the slope of the curve', () => {
    const h = 1e-7;
    for (const r of [0, 0.01, 0.4]) {
      const slope = (compressRatio(r + h) - compressRatio(r)) / h;
      expect(slopeAt(compressRatio(r)) / slope).toBeCloseTo(1, 2);
    }
  });

  it('carry their uncertainty, the same for a ratio and its inverse', () => {
    const leak = compressMeasured({ value: 0.02, u: 0.001 });
    const inverse = compressMeasured({ value: 50, u: 0.001 * 2500 });
    expect(inverse.value).toBeCloseTo(-leak.value, 10);
    expect(inverse.u).toBeCloseTo(leak.u, 10);
    expect(Number.isFinite(compressMeasured({ value: -0.001, u: 0.001 }).value)).toBe(true);
  });
});

it.each([
  { kind: 'log-uniform', low: 0.02, high: 0.5, middle: 0.1 },
  { kind: 'half-normal', sigma: 5, low: 3, high: 25, middle: 14 },
] as const)('sizes of a $kind spread run through its range', ({ middle, ...spread }) => {
  expect(nodeAt(spread, 0).value).toBeCloseTo(spread.low, 12);
  expect(nodeAt(spread, 0.5).value).toBeCloseTo(middle, 12);
  expect(nodeAt(spread, 1).value).toBeCloseTo(spread.high, 12);
});

it('forecasts weigh 1 together, whatever the faults', () => {
  for (const { rows } of forecastLight()) {
    let sum = 0;
    for (let at = COLUMNS - 1; at < rows.length; at += COLUMNS) sum += rows[at];
    expect(sum).toBeCloseTo(1, 12);
  }
});
