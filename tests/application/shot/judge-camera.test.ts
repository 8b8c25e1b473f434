import { describe, expect, it } from 'vitest';
import { compareExposures, judgeTones } from '../../../src/application/shot/judge-camera.ts';

const ALIKE = { exposureTime_s: 0.5, fNumber: 5.6, iso: 100 };

describe('compareExposures', () => {
  it.each([
    ['one photograph has none to compare with', [{}], undefined],
    ['the same time, stop and speed', [ALIKE, { ...ALIKE, takenAt: 'later' }], undefined],
    ['another time', [ALIKE, { ...ALIKE, exposureTime_s: 0.25 }], 'exposure-differs'],
    ['another stop, even for more time', [ALIKE, { ...ALIKE, exposureTime_s: 1, fNumber: 8 }], 'exposure-differs'],
    ['a fact that one file lacks', [ALIKE, { exposureTime_s: 0.5, iso: 100 }], 'exposure-unknown'],
  ])('%s', (_name, cameras, code) => {
    expect(compareExposures(cameras)).toBe(code);
  });
});

describe('judgeTones', () => {
  it.each([
    ['a straight curve', [{ value: 1.02, u: 0.01 }], undefined],
    [
      'a bent one',
      [
        { value: 1, u: 0.01 },
        { value: 0.9, u: 0.02 },
      ],
      'tone-curve-bent',
    ],
    ['one that may be straight', [{ value: 1.1, u: 0.06 }], undefined],
    ['one that nobody knows', [{ value: 1, u: 0.01 }, null], 'tone-curve-unknown'],
    ['none', [], undefined],
  ])('%s', (_name, tones, code) => {
    expect(judgeTones(tones)).toBe(code);
  });
});
