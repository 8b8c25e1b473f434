import { describe, expect, it } from 'vitest';
import { readingOf } from '../../../../../src/application/light/default-chain.ts';
import { EMPTY_LIGHT, type LitPhotographs } from '../../../../../src/contract/light.ts';
import { luminanceFromFootlamberts } from '../../../../../src/kernel/photometry.ts';
import {
  fromCandela,
  meterDraftOf,
  picturesOf,
  readMeter,
  readNumber,
  toCandela,
  writeInterval,
  writeLuminance,
} from '../../../../../src/shells/interface/screens/light/light-units.ts';

describe('units of light', () => {
  it('are those of the measurement', () => {
    expect(toCandela(4.5, 'fL')).toBeCloseTo(luminanceFromFootlamberts(4.5), 12);
    expect(fromCandela(toCandela(7.3, 'fL'), 'fL')).toBeCloseTo(7.3, 12);
    expect(toCandela(9, 'cd_m2')).toBe(9);
  });

  it('are written with their 95 % interval', () => {
    expect(writeInterval({ value: 14.23, u: 0.44 })).toBe('14.23 ± 0.88');
    expect(writeInterval({ value: 14, u: 0 })).toBe('14.00');
    expect(writeLuminance({ cd_m2: { value: 15.417, u: 1 }, fL: { value: 4.4996, u: 1 } }, 'fL')).toBe('4.50');
  });

  it.each([
    ['12.5', 12.5],
    ['12,5', 12.5],
    [' 3 ', 3],
    ['.5', 0.5],
    ['', null],
    ['-3', null],
    ['1e3', null],
    ['dark', null],
  ])('reads %j as %s', (text, value) => {
    expect(readNumber(text)).toBe(value);
  });
});

const laid = (...roles: (keyof LitPhotographs)[]): LitPhotographs => ({
  ...EMPTY_LIGHT.photographs,
  ...Object.fromEntries(roles.map((role) => [role, { name: role, sha256: '' }])),
});

describe('picturesOf', () => {
  it('names eyes of the target, the likelier first, and photographs of the open gate', () => {
    expect(picturesOf('target', laid('left-lens', 'right-lens'))).toEqual(['left-eye', 'right-eye']);
    expect(picturesOf('target', laid('right-lens'))[0]).toBe('right-eye');
    expect(picturesOf('open-gate', laid('bare'))).toEqual(['bare']);
    expect(picturesOf('open-gate', laid('left-lens', 'right-lens'))).toEqual(['left-lens', 'right-lens']);
    expect(picturesOf('open-gate', laid())).toEqual([]);
  });
});

describe('readMeter', () => {
  const draft = meterDraftOf(null, ['left-eye']);
  const read = (reading: string, change = {}) => readMeter({ ...draft, reading, ...change }, ['left-eye']);

  it('reads either unit, as sure as the command line takes it', () => {
    const { meter } = read('4.5', { unit: 'fL', place: 'top', isThroughGlasses: true });
    expect(meter).toMatchObject({ of: 'left-eye', place: 'top', through_glasses: true });
    // 4.5 fL = 15.42 cd/m2. COMPUTED
    expect(meter!.cd_m2).toBeCloseTo(15.42, 2);
    expect(meter!.u_cd_m2).toBeCloseTo(readingOf(meter!.cd_m2).u, 12);
  });

  it.each([
    ['', undefined],
    ['dark', 'not-a-number'],
    ['0.001', 'too-small'],
    ['20000', 'too-large'],
  ])('%j: %s', (text, problem) => {
    expect(read(text)).toEqual(problem === undefined ? {} : { problem });
  });

  it('belongs to a picture that is there', () => {
    expect(readMeter({ ...draft, reading: '9' }, ['bare']).meter!.of).toBe('bare');
    expect(readMeter({ ...draft, reading: '9' }, [])).toEqual({});
  });
});
