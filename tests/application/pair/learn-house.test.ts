import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { measurePhotographs } from '../../../src/application/measure-photographs.ts';
import { assumeFromFindings, learnHouse, takeIntoHouse } from '../../../src/application/pair/learn-house.ts';
import type { ExaminedPhotograph } from '../../../src/application/shot/examine-shot.ts';
import { EYES, type Eye } from '../../../src/kernel/eye.ts';
import type { Point } from '../../../src/kernel/point.ts';
import type { View } from '../../../src/kernel/view.ts';
import { type House, readHouse } from '../../../src/record/house.ts';
import type { HouseFindings } from '../../../src/record/house-findings.ts';
import type { PhotographRole } from '../../../src/record/roles.ts';
import { meridian } from '../../limits/reading-of.ts';
import { folderName, IMAGE_SETS, TEST_IMAGES } from '../../scene/test-image-sets.ts';

const PX_PER_IH = 800;
const CENTRE = { x: 1000, y: 600 };
const view: View = {
  photoFromChart: [PX_PER_IH, 0, CENTRE.x, 0, -PX_PER_IH, CENTRE.y, 0, 0, 1],
  lens: { k1: 0, k2: 0, centre: CENTRE, radius_px: 1200 },
};
const views = { left: view, right: view };
const ASPECT = 2.35;
/** Height of a picture on the film. */
const HEIGHT_UM = (1000 * 20.95) / ASPECT;

/** A photograph in which the view stands off by `shift` (ih, y up) and is turned counter-clockwise. */
function photograph(role: PhotographRole, shift: Point, { turn = 0, exposureTime_s }: Taken = {}): ExaminedPhotograph {
  const marksOf = (eye: Eye) =>
    Array.from({ length: 20 }, (_, i) => {
      const mark = { id: `${eye}-${i}`, x: (i % 5) / 2 - 1, y: Math.floor(i / 5) / 4 - 0.4 };
      const at = { x: mark.x - turn * mark.y + shift.x, y: mark.y + turn * mark.x + shift.y };
      const centre = { x: CENTRE.x + PX_PER_IH * at.x, y: CENTRE.y - PX_PER_IH * at.y };
      const isShown = role === 'bare' || role === `${eye}-lens`;
      return { mark, centre, covariance: [1e-4, 0, 1e-4], contrast: isShown ? 0.8 : 0.01 };
    });
  const shot = { marks: { left: marksOf('left'), right: marksOf('right') }, fit: { views } };
  return { role, shot, photo: { camera: { exposureTime_s } } } as unknown as ExaminedPhotograph;
}
interface Taken {
  readonly turn?: number;
  readonly exposureTime_s?: number;
}

const learn = (photographs: readonly ExaminedPhotograph[], house: House | undefined = meridian()) =>
  learnHouse(photographs, views, house, ASPECT);

describe('the film', () => {
  it('is known from the scatter of photographs of one kind, upright by the frames that were averaged', () => {
    const up = [0, 4e-4, -4e-4, 0];
    const { film } = learn(up.map((y) => photograph('bare', { x: 0, y }, { exposureTime_s: 0.25 })))!;
    // s_y^2 = 2 (4e-4)^2 / 3 of six frames averaged, nothing sideways.
    const motion_um = Math.sqrt((6 * 2 * 4e-4 ** 2) / 6) * HEIGHT_UM;
    expect(film!.motion_um.value).toBeCloseTo(motion_um, 6);
    expect(film).toMatchObject({ degrees_of_freedom: 6, photographs: 4 });
    expect(film!.motion_um.u / film!.motion_um.value).toBeCloseTo(1 / Math.sqrt(12), 9);
  });
  it('joins photographs of several kinds, each about its own middle', () => {
    const through = (role: PhotographRole, wedge: number) =>
      [3e-4, -3e-4].map((x) => photograph(role, { x: x + wedge, y: 0 }));
    const { film } = learn([...through('left-lens', 2e-3), ...through('right-lens', -2e-3)])!;
    expect(film!.motion_um.value).toBeCloseTo(Math.sqrt((4 * 3e-4 ** 2) / 4) * HEIGHT_UM, 6);
    expect(film!.degrees_of_freedom).toBe(4);
  });
  it('is not known from two photographs, nor from one of each kind', () => {
    expect(learn([photograph('bare', { x: 0, y: 0 }), photograph('bare', { x: 0, y: 1e-3 })])).toBeUndefined();
    expect(learn([photograph('left-lens', { x: 0, y: 0 }), photograph('right-lens', { x: 0, y: 0 })])).toBeUndefined();
  });
});

const set = [
  photograph('bare', { x: 0, y: 0 }),
  photograph('left-lens', { x: 1e-3, y: 0 }, { turn: 1e-3 }),
  photograph('right-lens', { x: 0, y: -2e-3 }),
];

describe('the glasses', () => {
  it('are known from photographs with and without them, as angles at the seat', () => {
    const { glasses } = learn(set)!;
    const arcmin = (ih: number) => (Math.atan((ih * (10.4 / ASPECT)) / 15) * 180 * 60) / Math.PI;
    expect(glasses!.left.right_arcmin).toBeCloseTo(arcmin(1e-3), 6);
    expect(glasses!.left.turn_deg).toBeCloseTo((1e-3 * 180) / Math.PI, 6);
    expect(glasses!.right.up_arcmin).toBeCloseTo(arcmin(-2e-3), 6);
    // One photograph with, one without, of film as it usually moves.
    expect(glasses!.right.u_arcmin).toBeCloseTo(arcmin((Math.SQRT2 * 5) / HEIGHT_UM), 4);
  });
  it('are known better where more photographs were taken, and from film that stands still but for the marks', () => {
    const twice = learn([...set, ...set])!.glasses!.left.u_arcmin;
    expect(twice).toBeLessThan(0.8 * learn(set)!.glasses!.left.u_arcmin);
    const slides = { ...meridian(), film: { ...meridian().film, motion_um: 0 } };
    expect(learn(set, slides)!.glasses!.left.u_arcmin).toBe(0);
  });
});

const found = (motion_um: number, degrees_of_freedom: number, up_arcmin: number, u_arcmin: number): HouseFindings => {
  const lens = { right_arcmin: 0, up_arcmin, u_arcmin, turn_deg: 0, u_turn_deg: 0.01 };
  const film = { motion_um: { value: motion_um, u: 1 }, degrees_of_freedom, photographs: 3 };
  return { film, glasses: { left: lens, right: lens } };
};

describe('what was learned enters the house', () => {
  it('as it is, and joined with what it had learned before: variances by degrees of freedom, effects by weight', () => {
    const once = takeIntoHouse(meridian(), [found(3, 4, 1, 0.2)]);
    expect(readHouse(once)).toEqual({ outcome: 'read', house: once });
    expect(once.film).toMatchObject({ motion_um: 3, motion_degrees_of_freedom: 4 });
    const again = takeIntoHouse(once, [found(6, 12, 2, 0.1)]);
    expect(again.film.motion_um).toBeCloseTo(Math.sqrt((4 * 9 + 12 * 36) / 16), 3);
    expect(again.film.motion_degrees_of_freedom).toBe(16);
    expect(again.glasses!.left!.up_arcmin).toBeCloseTo((1 / 0.04 + 2 / 0.01) / (1 / 0.04 + 1 / 0.01), 3);
    expect(again.glasses!.left!.u_arcmin).toBeCloseTo((1 / 0.04 + 1 / 0.01) ** -0.5, 3);
  });
  it('in the work only where the house states nothing of its own', () => {
    const stated = { ...meridian(), film: { ...meridian().film, motion_um: 8 } };
    expect(assumeFromFindings(stated, [found(3, 4, 1, 0.2)]).film).toEqual(stated.film);
    expect(assumeFromFindings(meridian(), [found(3, 4, 1, 0.2)]).film.motion_um).toBe(3);
    expect(assumeFromFindings(meridian(), [])).toEqual(meridian());
  });
});

it('glasses that are known are taken out of a pair, and its uncertainty is less', async () => {
  // Too dim for a ghost: nothing else tells what lies between the two photographs.
  const folder = join(TEST_IMAGES, folderName(IMAGE_SETS.find(({ name }) => name === 'dim-noisy')!));
  const verticalIn = async (house: House) => {
    const photographs = EYES.map((eye) => ({ role: `${eye}-lens` as const, path: join(folder, `${eye}-lens.jpg`) }));
    const reading = await measurePhotographs({ photographs, house, softwareVersion: '0' });
    if (reading.outcome === 'refused') throw new Error(reading.refusal.code);
    return reading.misalignment.vertical_offset_pct;
  };
  const lens = { right_arcmin: 0, up_arcmin: 0, u_arcmin: 0.1, turn_deg: 0, u_turn_deg: 0 };
  const [before, after] = [
    await verticalIn(meridian()),
    await verticalIn({ ...meridian(), glasses: { left: lens, right: { ...lens, up_arcmin: 1 } } }),
  ];
  // The right lens lifts the view by a minute of arc, which at 15 m are 0.0986 % of the picture height.
  expect(before.value - after.value).toBeCloseTo(0.0986, 3);
  expect(after.u).toBeLessThan(0.8 * before.u);
});
