/**
 * Something moved or zoomed between the photographs. The other eye's faint ghost in each photograph is the witness: what it
 * shows is taken out, as long as film could have done it, and refused beyond; where it is too faint to show anything the
 * reading carries a warning, and an uncertainty that allows for film. What must never happen is a wrong number without either.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import type { TermField } from '../../src/record/term-fields.ts';
import type { Camera } from '../../src/scene/camera.ts';
import {
  expectMeasured,
  expectRefusal,
  expectTrue,
  expectWithinUncertainty,
  measure,
  warningsOf,
} from './run-measure-command.ts';
import {
  DISTANCE_IH,
  exposeThrough,
  render,
  SCENE,
  type Setting,
  standAt,
  storeInFolder,
  storePicture,
  truthOf,
} from './simulated-photographs.ts';

storeInFolder();

/** In parts of the brighter picture. 8-bit codes tell leaks apart from black from about 0.2 % on. */
const TELLING_LEAKS = [0.003, 0.01, 0.05];
const FAINT_LEAKS = [0.0005];

const camera = standAt(5);
const pixelsPerHeight = camera.focal_px / DISTANCE_IH;

function shifted(x_px: number, y_px: number): Camera {
  const { x, y } = camera.lookAt_ih;
  return { ...camera, lookAt_ih: { x: x + x_px / pixelsPerHeight, y: y + y_px / pixelsPerHeight } };
}

type Movement = readonly [string, Camera];

/** As far as film in a gate moves: 0.56 % of the picture height. */
const FILM_MOVEMENTS: readonly Movement[] = [
  ['0.5 px up', shifted(0, 0.5)],
  ['1 px up', shifted(0, 1)],
  ['3 px up', shifted(0, 3)],
  ['0.5 px sideways', shifted(0.5, 0)],
  ['1 px sideways', shifted(1, 0)],
  ['3 px sideways', shifted(3, 0)],
  ['a roll of 0.05 degrees', { ...camera, roll_deg: camera.roll_deg + 0.05 }],
];
const CAMERA_MOVEMENTS: readonly Movement[] = [
  ['a zoom of 0.2 %', { ...camera, focal_px: camera.focal_px * 1.002 }],
  ['40 px up', shifted(0, 40)],
  ['40 px sideways', shifted(40, 0)],
  ['a zoom of 2 %', { ...camera, focal_px: camera.focal_px * 1.02 }],
];

let still: Setting;
let truth: Readonly<Record<TermField, number>>;
const leftWithLeak = new Map<number, string>();

beforeAll(async () => {
  still = render(camera);
  truth = truthOf(still);
  for (const leak of [...TELLING_LEAKS, ...FAINT_LEAKS]) {
    leftWithLeak.set(leak, await storePicture(`left ${leak}.jpg`, exposeThrough(still, 'left', { leak })));
  }
});

describe.each(FILM_MOVEMENTS)('%s', (name, movedCamera) => {
  let moved: Setting;
  beforeAll(() => {
    moved = { ...render(movedCamera), exposure: still.exposure };
  });

  it.each(TELLING_LEAKS)('is taken out with a ghost of %f, and the ghost is measured where it stands', async (leak) => {
    const right = await storePicture(`${name} ${leak}.jpg`, exposeThrough(moved, 'right', { leak }));
    const reading = await expectMeasured(leftWithLeak.get(leak)!, right);
    expectWithinUncertainty(reading, truth);
    const { value, u_repeat } = reading.misalignment.vertical_offset_pct;
    expect(Math.abs(value - truth.vertical_offset_pct)).toBeLessThan(4.5 * u_repeat!);
    expect(u_repeat).toBeLessThan(0.02);
    for (const crosstalk of [reading.eyes.crosstalk_left_pct, reading.eyes.crosstalk_right_pct]) {
      expect(Math.abs(crosstalk!.value - 100 * leak)).toBeLessThan(3 * crosstalk!.u);
    }
  });

  it.each(FAINT_LEAKS)('with a ghost of %f is warned of', async (leak) => {
    const right = await storePicture(`${name} ${leak}.jpg`, exposeThrough(moved, 'right', { leak }));
    const reading = await expectMeasured(leftWithLeak.get(leak)!, right);
    expect(warningsOf(reading)).toContain('two-exposures');
    expect(reading.eyes.assignment).toBe('correct');
  });
});

describe.each(CAMERA_MOVEMENTS)('%s', (name, movedCamera) => {
  let moved: Setting;
  beforeAll(() => {
    moved = { ...render(movedCamera), exposure: still.exposure };
  });

  it.each(TELLING_LEAKS)('is refused with a ghost of %f', async (leak) => {
    const right = await storePicture(`${name} ${leak}.jpg`, exposeThrough(moved, 'right', { leak }));
    await expectRefusal(leftWithLeak.get(leak)!, right, 'camera-moved', null);
  });

  it.each(FAINT_LEAKS)('is refused or warned of with a ghost of %f', async (leak) => {
    const right = await storePicture(`${name} ${leak}.jpg`, exposeThrough(moved, 'right', { leak }));
    const reading = await measure(leftWithLeak.get(leak)!, right);
    if (reading.outcome === 'refused') expect(reading.refusal.code).toBe('camera-moved');
    else {
      expect(warningsOf(reading)).toContain('two-exposures');
      expect(reading.eyes.assignment).toBe('correct');
    }
  });
});

describe('a camera that kept still', () => {
  it.each(TELLING_LEAKS)('is known to have done so with a leak of %f', async (leak) => {
    const right = await storePicture(`still ${leak}.jpg`, exposeThrough(still, 'right', { leak }));
    const reading = await expectMeasured(leftWithLeak.get(leak)!, right);
    expectTrue(reading, truth);
    expect(warningsOf(reading)).toEqual(['two-exposures']);
    expect(reading.steadiness!.movement_px.value).toBeLessThan(0.1);
    const { eyes } = reading;
    for (const crosstalk of [eyes.crosstalk_left_pct, eyes.crosstalk_right_pct]) {
      expect(Math.abs(crosstalk!.value - 100 * leak)).toBeLessThan(3 * crosstalk!.u);
    }
  });

  // Noise makes a leak that is not there come out below zero as often as above.
  it.each([1, 2, 3])('cannot be told without a leak, but the eyes can: noise %i', async (variant) => {
    const peak = 0.7 + 0.01 * variant;
    const left = await storePicture(`none l ${variant}.jpg`, exposeThrough(still, 'left', { leak: 0, peak }));
    const right = await storePicture(`none r ${variant}.jpg`, exposeThrough(still, 'right', { leak: 0, peak }));
    const reading = await expectMeasured(left, right);
    expectTrue(reading, truth);
    expect(warningsOf(reading)).toEqual(['two-exposures']);
    expect(reading.steadiness).toBeNull();
    expect(reading.eyes.assignment).toBe('correct');
  });
});

describe('pictures that lie far apart are no movement', () => {
  const apart = (verticalOffset: number, horizontalOffset: number) => {
    const { projector } = SCENE;
    const misalignment = { ...projector.misalignment, verticalOffset, horizontalOffset };
    const scene = { ...SCENE, projector: { ...projector, misalignment } };
    return render(standAt(5, scene), scene);
  };

  it.each([
    [0.03, 0.03, 0.0005],
    [0.04, 0, 0.0005],
    [0, 0.08, 0.0005],
    [0, 0.08, 0.05],
  ])('%f up and %f sideways, with a leak of %f', async (up, sideways, leak) => {
    const setting = apart(up, sideways);
    const left = await storePicture('apart l.jpg', exposeThrough(setting, 'left', { leak }));
    const right = await storePicture('apart r.jpg', exposeThrough(setting, 'right', { leak }));
    const reading = await expectMeasured(left, right);
    expectTrue(reading, truthOf(setting));
    for (const crosstalk of [reading.eyes.crosstalk_left_pct, reading.eyes.crosstalk_right_pct]) {
      expect(Math.abs(crosstalk!.value - 100 * leak)).toBeLessThan(3 * crosstalk!.u);
    }
  });
});
