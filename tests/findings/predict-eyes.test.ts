import { describe, expect, it } from 'vitest';
import {
  applyChange,
  compressMeasured,
  compressRatio,
  nodesOf,
  predictPassage,
  RIGHT_LIGHT,
  ratioAbove,
  slopeAt,
} from '../../src/findings/predict-eyes.ts';
import { predictLeaks } from '../../src/light/explain-leaks.ts';

const any = { kind: 'log-uniform', low: 1, high: 2 } as const;
const ratio = (state: typeof RIGHT_LIGHT, lens: 'left' | 'right', floor = 0) =>
  ratioAbove(floor, predictPassage(state, 'right', lens), predictPassage(state, 'left', lens));

describe('what the camera sees', () => {
  it('of a turned polarizer is what the laws of the leaks say', () => {
    const turned = applyChange(RIGHT_LIGHT, { what: 'picture-turned', by_deg: any }, 12, 'right');
    const expected = predictLeaks({ picture_deg: { right: 12 } });
    expect(ratio(turned, 'left')).toBeCloseTo(expected.left, 12);
    expect(1 / ratio(turned, 'right')).toBeCloseTo(expected.right, 12);
  });

  it('of tilted glasses is tan^2 through both lenses: 3.109 % at 10 degrees', () => {
    const tilted = applyChange(RIGHT_LIGHT, { what: 'all-turned', by_deg: any }, 10);
    expect(ratio(tilted, 'left')).toBeCloseTo(0.03109, 5);
    expect(1 / ratio(tilted, 'right')).toBeCloseTo(0.03109, 5);
  });

  it('of a screen that depolarizes completely is both pictures alike', () => {
    const matte = applyChange(RIGHT_LIGHT, { what: 'light-depolarized', part: any }, 1);
    expect(ratio(matte, 'left')).toBeCloseTo(1, 12);
    // 13 %: (0.13 / 2) / (1 - 0.13 / 2).
    const dull = applyChange(RIGHT_LIGHT, { what: 'light-depolarized', part: any }, 0.13);
    expect(ratio(dull, 'left')).toBeCloseTo(0.065 / 0.935, 12);
  });

  it('is the same whether the floor is a change or laid on afterwards', () => {
    const turned = applyChange(RIGHT_LIGHT, { what: 'lens-turned', by_deg: any }, 8, 'left');
    const both = applyChange(turned, { what: 'light-depolarized', part: any }, 0.02);
    for (const lens of ['left', 'right'] as const) expect(ratio(turned, lens, 0.02)).toBeCloseTo(ratio(both, lens), 12);
  });

  it('of exchanged eyes is the other ratio; an exchange undone is none', () => {
    const exchanged = applyChange(RIGHT_LIGHT, { what: 'exchanged' }, 0);
    expect(ratio(exchanged, 'left', 0.01)).toBeCloseTo(ratio(RIGHT_LIGHT, 'right', 0.01), 12);
    expect(applyChange(exchanged, { what: 'exchanged' }, 0).exchanged).toBe(false);
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
  { kind: 'log-uniform', low: 0.02, high: 0.5 },
  { kind: 'half-normal', sigma: 5, low: 3, high: 25 },
] as const)('sizes of a $kind spread lie in its range and weigh 1 together', (spread) => {
  const nodes = nodesOf(spread, 16);
  expect(nodes.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
  for (const { value } of nodes) expect(value > spread.low && value < spread.high).toBe(true);
});
