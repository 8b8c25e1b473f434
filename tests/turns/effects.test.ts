import { describe, expect, it } from 'vitest';
import { TERMS } from '../../src/geometry/misalignment.ts';
import type { KnownAdjustment } from '../../src/record/house-adjustments.ts';
import {
  changeMisalignment,
  describeMovement,
  describeOptics,
  deviateByWedge_rad,
  movePictures,
  rateOfMotion,
  shiftByLens,
  shiftByMirror,
} from '../../src/turns/effects.ts';
import { meridian } from '../limits/reading-of.ts';

const rad = (deg: number) => (deg * Math.PI) / 180;
const screw = { id: 'a', label: 'a', range_turns: 8, backlash_turns: 0, smallest_useful_turn: 0.0625 } as const;
const hand = { id: 'a', label: 'a', range_deg: 10, backlash_deg: 0, smallest_useful_deg: 0.1 } as const;

const optics = describeOptics(meridian());
const upperLeft = { ...optics, upperPortShows: 'left' } as const;
const S = (0.375 * 25.4) / (20.95 / 2.35);

function changeBy(adjustment: KnownAdjustment, turns: number, seen = optics) {
  return changeMisalignment(movePictures(describeMovement(adjustment, seen), turns));
}

describe('formulas of first-order optics', () => {
  // Computed check values; the formulas: law of reflection; Smith, Modern Optical Engineering, p. 93; lens at fixed film.
  it('a mirror tilted by 1 arcmin moves the picture 11.64 mm at 20 m', () => {
    expect(shiftByMirror(rad(1 / 60), 20_000)).toBeCloseTo(11.64, 2);
  });

  it('a tilted mirror turns the ray by twice the tilt', () => {
    const delta = 0.003;
    const normal = { x: Math.sin(delta), y: Math.cos(delta) };
    // A ray straight down, reflected: r = d - 2 (d.n) n.
    const along = -normal.y;
    const reflected = { x: -2 * along * normal.x, y: -1 - 2 * along * normal.y };
    expect(Math.atan2(reflected.x, reflected.y)).toBeCloseTo(2 * delta, 12);
    expect(shiftByMirror(delta, 1)).toBeCloseTo(2 * delta, 12);
  });

  it('a wedge of 1 degree, n = 1.517, deviates by 0.517 degrees = 31.0 arcmin', () => {
    const deviation = deviateByWedge_rad(rad(1), 1.517);
    expect((deviation * 180) / Math.PI).toBeCloseTo(0.517, 3);
    expect((deviation * 180 * 60) / Math.PI).toBeCloseTo(31.0, 1);
  });

  it('one prism dioptre takes a wedge of 1.108 degrees', () => {
    expect(100 * Math.tan(deviateByWedge_rad(rad(1.108), 1.517))).toBeCloseTo(1, 3);
  });

  it('a picture 12 m wide from 20.95 mm is magnified 572.8 times: 0.01 mm of film is 5.73 mm, of lens 5.74 mm', () => {
    const house = meridian();
    house.screen.picture_width_m = 12;
    const { magnification } = describeOptics(house);
    expect(magnification).toBeCloseTo(572.8, 1);
    expect(0.01 * magnification).toBeCloseTo(5.73, 2);
    expect(shiftByLens(0.01, magnification)).toBeCloseTo(5.74, 2);
  });
});

describe('a mirror screw', () => {
  const tilt = { ...screw, kind: 'mirror-tilt', pitch_mm: 0.5, lever_mm: 160 } as const;

  it('moves its picture by 2 D p / (a H) per turn', () => {
    const change = changeBy({ ...tilt, moves: 'right', clockwise_moves: 'up' }, 1);
    expect(change.verticalOffset).toBeCloseTo((2 * 27_000 * 0.5) / (160 * (10_400 / 2.35)), 12);
    for (const term of TERMS.filter((t) => t !== 'verticalOffset')) expect(change[term]).toBe(0);
  });

  it.each([
    ['right', 'up', 'verticalOffset', +1],
    ['right', 'down', 'verticalOffset', -1],
    ['left', 'up', 'verticalOffset', -1],
    ['left', 'down', 'verticalOffset', +1],
    ['right', 'right', 'horizontalOffset', +1],
    ['right', 'left', 'horizontalOffset', -1],
    ['left', 'right', 'horizontalOffset', -1],
    ['left', 'left', 'horizontalOffset', +1],
  ] as const)('clockwise moves the %s picture %s: right minus left of %s has sign %i', (moves, to, term, sign) => {
    expect(Math.sign(changeBy({ ...tilt, moves, clockwise_moves: to }, 1)[term])).toBe(sign);
    expect(Math.sign(changeBy({ ...tilt, moves, clockwise_moves: to }, -1)[term])).toBe(-sign);
  });
});

describe('the attachment turned about the lens axis', () => {
  const whole = { ...hand, kind: 'attachment-rotation' } as const;

  it('clockwise from the audience moves the upper picture right: right minus left = S sin(phi), S (1 - cos(phi))', () => {
    const change = changeBy(whole, 2 / 360);
    expect(change.horizontalOffset).toBeCloseTo(S * Math.sin(rad(2)), 12);
    expect(change.verticalOffset).toBeCloseTo(S * (1 - Math.cos(rad(2))), 12);
    expect(change.rotation).toBe(0);
  });

  it('agrees with a turn in space about the axis from the audience to the projector', () => {
    // x right and y up as seen from the audience, so z = x cross y points from the screen to the audience and on to the
    // projector: that is the direction of view in which the turn is clockwise, and so its axis by the right-hand rule.
    const phi = rad(2);
    const axis = [0, 0, 1] as const;
    const v = [0, -S / 2, 0] as const;
    const cross = [axis[1] * v[2] - axis[2] * v[1], axis[2] * v[0] - axis[0] * v[2]];
    const turned = [v[0] * Math.cos(phi) + cross[0] * Math.sin(phi), v[1] * Math.cos(phi) + cross[1] * Math.sin(phi)];
    const { right } = movePictures(describeMovement(whole, optics), 2 / 360);
    expect(right.horizontalOffset).toBeCloseTo(turned[0] - v[0], 12);
    expect(right.verticalOffset).toBeCloseTo(turned[1] - v[1], 12);
  });

  it('with the left-eye picture through the upper port both signs change', () => {
    const change = changeBy(whole, 2 / 360, upperLeft);
    expect(change.horizontalOffset).toBeCloseTo(-S * Math.sin(rad(2)), 12);
    expect(change.verticalOffset).toBeCloseTo(-S * (1 - Math.cos(rad(2))), 12);
  });

  it('keeps the middle of the pair where it is', () => {
    const { left, right } = movePictures(describeMovement(whole, optics), 0.01);
    expect(left.horizontalOffset + right.horizontalOffset).toBeCloseTo(0, 15);
    expect(left.verticalOffset + right.verticalOffset).toBeCloseTo(0, 15);
  });

  it('from where it stands already turned, the vertical changes at first order', () => {
    const change = changeBy({ ...whole, position_deg: 3 }, 1 / 360);
    expect(change.horizontalOffset).toBeCloseTo(S * (Math.sin(rad(4)) - Math.sin(rad(3))), 12);
    expect(change.verticalOffset).toBeCloseTo(S * (Math.cos(rad(3)) - Math.cos(rad(4))), 12);
  });

  it('driven by a screw that turns it the other way, it goes the other way', () => {
    const driven = { ...screw, kind: 'attachment-screw', clockwise_turns_deg: -0.5 } as const;
    expect(changeBy(driven, 1).horizontalOffset).toBeCloseTo(-S * Math.sin(rad(0.5)), 12);
  });
});

describe('a wedge turned in one path', () => {
  const wedge = { ...hand, kind: 'wedge-rotation', wedge_deg: 0.5, refractive_index: 1.517 } as const;
  const length = optics.throw_ih * Math.tan(0.517 * rad(0.5));

  it.each([
    ['up', 'verticalOffset', +1],
    ['down', 'verticalOffset', -1],
    ['left', 'horizontalOffset', -1],
    ['right', 'horizontalOffset', +1],
  ] as const)('a small clockwise turn moves the picture %s', (to, term, sign) => {
    const change = changeBy({ ...wedge, moves: 'right', clockwise_moves: to }, 1 / 360);
    expect(change[term]).toBeCloseTo(sign * length * Math.sin(rad(1)), 12);
  });

  it('stays at its distance from the undeviated place', () => {
    const { left } = movePictures(
      describeMovement({ ...wedge, moves: 'left', clockwise_moves: 'up' }, optics),
      10 / 360,
    );
    // Clockwise moves up means counter-clockwise on the screen from a deviation to the right.
    expect(Math.hypot(length + left.horizontalOffset, left.verticalOffset)).toBeCloseTo(length, 12);
  });
});

describe('stated effects', () => {
  it('are those of the picture that moves, in percent and degrees', () => {
    const effect_per_turn = { vertical_pct: 1, rotation_deg: 0.6, keystone_h_pct: 2 };
    const right = changeBy({ ...screw, kind: 'stated', moves: 'right', effect_per_turn }, 0.5);
    expect(right).toMatchObject({ verticalOffset: 0.005, rotation: rad(0.3), keystoneH: 0.01, size: 0 });
    const left = changeBy({ ...screw, kind: 'stated', moves: 'left', effect_per_turn }, 0.5);
    expect(left.verticalOffset).toBe(-0.005);
  });

  it('apart: each picture by half, right minus left as stated', () => {
    const movement = describeMovement(
      { ...screw, kind: 'stated', moves: 'apart', effect_per_turn: { size_pct: 1 } },
      optics,
    );
    const motion = movePictures(movement, 1);
    expect([motion.left.size, motion.right.size]).toEqual([-0.005, 0.005]);
    expect(changeMisalignment(motion).size).toBe(0.01);
  });
});

describe('the rate of motion', () => {
  it.each<KnownAdjustment>([
    { ...hand, kind: 'attachment-rotation', position_deg: 2 },
    { ...screw, kind: 'attachment-screw', clockwise_turns_deg: 0.7, position_turns: 1 },
    { ...hand, kind: 'wedge-rotation', moves: 'left', clockwise_moves: 'down', wedge_deg: 1, refractive_index: 1.5 },
    { ...screw, kind: 'lens-shift', moves: 'left', clockwise_moves: 'left', pitch_mm: 0.5 },
  ])('is the derivative of the motion: $kind', (adjustment) => {
    const movement = describeMovement(adjustment, optics);
    const [at, h] = [0.004, 1e-6];
    const ahead = changeMisalignment(movePictures(movement, at + h));
    const behind = changeMisalignment(movePictures(movement, at - h));
    const rate = changeMisalignment(rateOfMotion(movement, at));
    for (const term of TERMS) expect(rate[term]).toBeCloseTo((ahead[term] - behind[term]) / (2 * h), 6);
  });
});
