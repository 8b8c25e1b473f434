import { describe, expect, it } from 'vitest';
import { angleOfLeak, type Cause, findCauses } from '../../src/findings/causes.ts';
import { predictHalfFrameOffset } from '../../src/findings/film-frame.ts';
import { judge } from '../../src/findings/judge.ts';
import type { Eyes } from '../../src/light/eyes.ts';
import { ASPECT, eyesOf, meridian, misalignmentOf } from './reading-of.ts';

const good = eyesOf(0.003, 0.002);

function causesOf(terms: Parameters<typeof misalignmentOf>[0], eyes: Eyes = good, cc = 0.375): Cause[] {
  const house = meridian();
  house.film.centre_to_centre_in = cc;
  const evidence = {
    misalignment: misalignmentOf(terms),
    eyes,
    house,
    aspect: ASPECT,
    upperPortShows: 'right' as const,
  };
  return findCauses(evidence, judge(evidence));
}

const codes = (causes: readonly Cause[]) => causes.map((cause) => cause.code);
const figure = (cause: Cause, name: string) => cause.evidence.find((item) => item.name === name)?.value;

describe('the angle that explains a leak', () => {
  // Computed from Malus's law: leak = tan^2(phi).
  it.each([
    [0.000305, 1],
    [0.001219, 2],
    [0.007654, 5],
    [0.01, 5.71],
    [0.03109, 10],
    [1, 45],
  ])('a leak of %f: %f degrees', (leak, deg) => {
    expect(angleOfLeak({ value: leak, u: 0 }).value).toBeCloseTo(deg, 2);
  });

  it('has the uncertainty of the slope, and a finite one without any leak', () => {
    const h = 1e-7;
    const slope =
      (angleOfLeak({ value: 0.02 + h, u: 0 }).value - angleOfLeak({ value: 0.02 - h, u: 0 }).value) / (2 * h);
    expect(angleOfLeak({ value: 0.02, u: 1e-4 }).u).toBeCloseTo(slope * 1e-4, 8);
    expect(angleOfLeak({ value: -0.001, u: 1e-3 }).u).toBeLessThan(2);
  });
});

describe('causes', () => {
  it('there are none where nothing is outside', () => {
    expect(causesOf({ verticalOffset: 0.001 })).toEqual([]);
  });

  it('a vertical offset alone needs a screw, not a cause', () => {
    expect(causesOf({ verticalOffset: 0.02 })).toEqual([]);
  });

  it('no polarization: the polarizers before the screen, the ghost not counted again', () => {
    expect(codes(causesOf({}, eyesOf(0.97, 0.99, 'undetermined')))).toEqual([
      'polarizers-missing',
      'screen-depolarizes',
      'camera-filters-missing',
    ]);
  });

  it('exchanged eyes without an offset: polarizers before half a frame', () => {
    expect(codes(causesOf({}, eyesOf(0.003, 0.002, 'swapped'), 0.387))).toEqual([
      'polarizers-exchanged',
      'camera-filters-exchanged',
      'half-frame-threading',
    ]);
  });

  it('exchanged eyes with the offset of half a frame: the threading first', () => {
    const film = { ...meridian().film, centre_to_centre_in: 0.387 };
    const predicted = predictHalfFrameOffset(film, ASPECT, 'right');
    const [first] = causesOf({ verticalOffset: 0.9 * predicted }, eyesOf(0.003, 0.002, 'swapped'), 0.387);
    expect(first.code).toBe('half-frame-threading');
    expect(figure(first, 'half_frame_vertical_offset_pct')).toBeCloseTo(7.41, 1);
  });

  it("a ghost through the left lens: the right-eye picture's polarizer is turned, or that lens", () => {
    const causes = causesOf({}, eyesOf(0.03109, 0.002));
    expect(codes(causes)).toEqual(['projector-polarizer-turned', 'glasses-lens-turned', 'one-path-depolarizes']);
    expect(figure(causes[0], 'polarizer_of_picture')).toBe('right');
    expect(figure(causes[1], 'lens')).toBe('left');
    expect(figure(causes[0], 'polarizer_angle_deg')).toBeCloseTo(10, 2);
  });

  it('a ghost alike in both: glasses, polarizers, screen and port glass explain it equally', () => {
    expect(codes(causesOf({}, eyesOf(0.03, 0.028)))).toEqual([
      'glasses-tilted',
      'both-polarizers-turned',
      'screen-depolarizes',
      'port-glass-strained',
    ]);
  });

  it('a size difference of 0.6 % is a path difference of 162 mm at 27 m', () => {
    const causes = causesOf({ size: 0.006 });
    expect(codes(causes)).toEqual(['path-lengths-differ', 'mirror-not-flat', 'lens-elements-differ']);
    expect(figure(causes[0], 'path_difference_mm')).toBeCloseTo(162, 6);
  });

  it('keystone beyond the limit: the attachment off the axis; stretch: a strained mirror', () => {
    expect(codes(causesOf({ keystoneH: 0.02 }))).toEqual(['attachment-off-axis', 'mirror-strained']);
    expect(codes(causesOf({ stretch: 0.01 }))).toContain('mirror-strained');
    expect(codes(causesOf({ stretch: 0.01 }))[0]).toBe('mirror-strained');
  });

  it('every cause brings evidence and a check', () => {
    for (const cause of causesOf({ size: 0.01, keystoneH: 0.03 }, eyesOf(0.05, 0.04, 'swapped'))) {
      expect(cause.evidence.length).toBeGreaterThan(0);
      expect(cause.check).toMatch(/^[a-z-]+$/);
    }
  });
});
