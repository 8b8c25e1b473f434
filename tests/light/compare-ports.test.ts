import { describe, expect, it } from 'vitest';
import { comparePorts, type PortThroughLenses } from '../../src/light/compare-ports.ts';
import { leakOfAngle } from '../../src/light/polarizer-error.ts';

const ALIKE = { value: 0, u: 0.05 };
const port = (left: number, right: number, u = 0.002, clipped = false): PortThroughLenses => ({
  left: { light: { value: left, u }, isClipped: clipped && left > right },
  right: { light: { value: right, u }, isClipped: clipped && right > left },
});
const DARK_LEFT = port(0.004, 0.6);
const DARK_RIGHT = port(0.5, 0.003);
const NEITHER = port(0.5, 0.52);

describe('comparePorts', () => {
  it.each([
    ['dark to left above, to right below', DARK_LEFT, DARK_RIGHT, 'each-its-own', 'right'],
    ['the other way round', DARK_RIGHT, DARK_LEFT, 'each-its-own', 'left'],
    ['both dark to one eye', DARK_LEFT, DARK_LEFT, 'both-one-eye', null],
    ['one alike', NEITHER, DARK_RIGHT, 'one-neither', null],
    ['both alike', NEITHER, NEITHER, 'both-neither', null],
    ['one that is neither dark nor alike', port(0.2, 0.5), DARK_RIGHT, 'unclear', null],
    ['one too noisy to be called dark', port(0.05, 0.5, 0.05), DARK_RIGHT, 'unclear', null],
    ['one without any light', port(-0.001, 0), DARK_RIGHT, 'unclear', null],
  ] as const)('%s', (_name, first, second, verdict, firstServes) => {
    expect(comparePorts({ first, second, logExposure: ALIKE })).toMatchObject({ verdict, firstServes });
  });

  /** Law of Malus, computed: what a polarizer that is off by an angle lets through the wrong lens over the right one. */
  it.each([5, 10, 20, 30])('gives a polarizer turned by %d degrees that angle', (angle_deg) => {
    const turned = port(0.6 * leakOfAngle(angle_deg), 0.6, 0);
    const { first } = comparePorts({ first: turned, second: DARK_RIGHT, logExposure: { value: 0, u: 0 } });
    expect(first.angle_deg).toBeCloseTo(angle_deg, 8);
    expect(first.darkerThrough).toBe('left');
    expect(first.darkTo).toBe(angle_deg < 24 ? 'left' : 'unclear');
  });

  it('is freed of the exposures, and is less certain where they are', () => {
    const first = port(0.4, 0.2);
    const known = comparePorts({ first, second: DARK_RIGHT, logExposure: { value: Math.log(0.5), u: 0.01 } });
    expect(known.first.ratio.value).toBeCloseTo(1, 9);
    expect(known.first.darkTo).toBe('neither');
    const unknown = comparePorts({ first, second: DARK_RIGHT, logExposure: { value: Math.log(0.5), u: 0.3 } });
    expect(unknown.first.darkTo).toBe('unclear');
    expect(unknown.second.darkTo).toBe('right');
  });

  it('takes burnt out light as a lower bound: dark it stays, alike it need not be', () => {
    const burnt = { first: port(0.7, 0.98, 0.002, true), second: port(0.98, 0.004, 0.002, true), logExposure: ALIKE };
    expect(comparePorts(burnt)).toMatchObject({ first: { darkTo: 'unclear' }, second: { darkTo: 'right' } });
    expect(comparePorts({ ...burnt, first: port(0.7, 0.98) }).first.darkTo).toBe('neither');
  });

  it('counts a light below nothing as none, with its uncertainty', () => {
    const { first } = comparePorts({ first: port(-0.003, 0.5, 0.01), second: DARK_RIGHT, logExposure: ALIKE });
    expect(first.ratio.value).toBe(0);
    expect(first.ratio.u).toBeCloseTo(0.02, 9);
  });
});
