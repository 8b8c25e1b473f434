/** Photographs that can be read but allow no honest answer. */
import { readFile } from 'node:fs/promises';
import sharp, { type Sharp } from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { expectMeasured, expectRefusal, expectTrue, run, runBuilt, warningsOf } from './run-measure-command.ts';
import {
  blackenOutside,
  drawOther,
  expose,
  exposeThrough,
  LEAK,
  PEAK,
  render,
  SCENE,
  type Setting,
  standAt,
  store,
  storeInFolder,
  storePicture,
  truthOf,
} from './simulated-photographs.ts';
import type { LensRole } from '../../src/record/roles.ts';

storeInFolder();

let setting: Setting;
let left = '';
let right = '';

beforeAll(async () => {
  setting = render();
  left = await storePicture('left.jpg', exposeThrough(setting, 'left'));
  right = await storePicture('right.jpg', exposeThrough(setting, 'right'));
});

it('the untouched pair is measured, true and without a warning but that it stands in two exposures', async () => {
  const reading = await expectMeasured(left, right);
  expectTrue(reading, truthOf(setting));
  expect(warningsOf(reading)).toEqual(['two-exposures']);
  expect(reading.eyes.assignment).toBe('correct');
});

describe('a process of its own gives the same bytes and the same status', () => {
  it.each([
    ['for a pair', 0, () => ['measure', '--left', left, '--right', right, '--json'], () => [left, right]],
    ['for a refusal', 2, () => ['measure', '--left', left, '--right', left], () => [left]],
    ['for wrong usage', 64, () => ['measure', '--left', left], () => [left]],
  ])('%s', async (_name, status, words, photographs) => {
    const built = await runBuilt(words(), photographs());
    expect(built.status).toBe(status);
    expect(built).toEqual(await run(words(), photographs()));
  });
});

describe('no target in the picture', () => {
  const crossing = (x: number, y: number) => {
    const u = (x % 100) - 50;
    const v = (y % 100) - 50;
    const r = Math.hypot(u, v);
    return { bright: u * v > 0, r };
  };
  const OTHERS: readonly (readonly [string, (x: number, y: number) => number, string])[] = [
    ['a grey wall', () => 110, 'no-target'],
    ['noise', (x, y) => (x * 7919 + y * 104729 + ((x * y) % 331) * 31) % 256, 'no-target'],
    ['a checkerboard', (x, y) => ((Math.floor(x / 60) + Math.floor(y / 60)) % 2 ? 220 : 25), 'no-target'],
    ['a fine checkerboard', (x, y) => ((Math.floor(x / 9) + Math.floor(y / 9)) % 2 ? 220 : 25), 'no-target'],
    ['stripes', (x, y) => (Math.floor((x + 0.3 * y) / 25) % 2 ? 220 : 25), 'no-target'],
    ['lines of text', (x, y) => (y % 32 < 20 && ((x >> 3) * 7919 + (y >> 5) * 104729) % 5 < 2 ? 20 : 235), 'no-target'],
    ['crossings without rings', (x, y) => (crossing(x, y).bright && crossing(x, y).r < 30 ? 210 : 12), 'no-target'],
    [
      'crossings in plain rings',
      (x, y) => {
        const { bright, r } = crossing(x, y);
        return (bright && r < 22) || (r > 28 && r < 38) ? 210 : 12;
      },
      'no-target',
    ],
    ['black', () => 2, 'underexposed'],
    ['white', () => 256, 'overexposed'],
  ];

  it.each(OTHERS)('%s', async (name, codeAt, code) => {
    const other = await storePicture(`${name}.jpg`, drawOther(codeAt));
    await expectRefusal(other, right, code, 'left-lens');
  });

  it('in the second photograph only', async () => {
    const wall = await storePicture(
      'wall.jpg',
      drawOther(() => 110),
    );
    await expectRefusal(left, wall, 'no-target', 'right-lens');
  });
});

describe('a target that is not whole', () => {
  const cut = async (name: string, x0: number, y0: number, x1: number, y1: number) =>
    Promise.all(
      (['left', 'right'] as const).map((lens) =>
        storePicture(`${name} ${lens}.jpg`, blackenOutside(exposeThrough(setting, lens), x0, y0, x1, y1)),
      ),
    );

  // In the photograph the picture reaches from 0.11 to 0.91 of the width.
  it.each([
    ['without a quarter', 0.3, 0, 1, 1],
    ['without its lower half', 0, 0, 1, 0.53],
  ])('%s is measured with a warning', async (name, x0, y0, x1, y1) => {
    const [l, r] = await cut(name, x0, y0, x1, y1);
    const reading = await expectMeasured(l!, r!);
    expectTrue(reading, truthOf(setting));
    expect(warningsOf(reading)).toContain('marks-missing');
    for (const crosstalk of [reading.eyes.crosstalk_left_pct, reading.eyes.crosstalk_right_pct]) {
      expect(Math.abs(crosstalk!.value - 100 * LEAK)).toBeLessThan(3 * crosstalk!.u);
    }
  });

  it.each([
    ['cut to less than half', 0.55, 0, 1, 1],
    ['cut to a third', 0.64, 0, 1, 1],
    ['cut to a tenth', 0.82, 0, 1, 1],
  ])('%s', async (name, x0, y0, x1, y1) => {
    const [l, r] = await cut(name, x0, y0, x1, y1);
    const { facts } = await expectRefusal(l!, r!, 'too-few-marks', 'left-lens');
    expect(Number(facts?.found)).toBeGreaterThan(3);
    expect(Number(facts?.found)).toBeLessThan(24);
    await expectRefusal(left, r!, 'too-few-marks', 'right-lens');
  });

  it('one mark only', async () => {
    const reading = await expectMeasured(left, right);
    const mark = reading.evidence.marks.find(({ shot, at }) => shot === 'left-lens' && Math.abs(at[0]) < 0.2)!;
    const [x, y] = mark.photo_px;
    const { width_px, height_px } = reading.shots[0]!;
    const half = 0.055 * 680;
    const alone = blackenOutside(
      exposeThrough(setting, 'left'),
      (x - half) / width_px,
      (y - half) / height_px,
      (x + half) / width_px,
      (y + half) / height_px,
    );
    const { message } = await expectRefusal(await storePicture('one.jpg', alone), right, 'too-few-marks', 'left-lens');
    expect(message).toContain('1 mark, at least 24 are needed');
  });
});

describe('two photographs that are no pair', () => {
  it('the same file twice', async () => {
    await expectRefusal(left, left, 'same-photo-twice', null);
  });

  it('the same photograph under another name with other metadata', async () => {
    const copy = Buffer.concat([await readFile(left), Buffer.from('appended by a sorting program')]);
    await expectRefusal(left, await store('copy.jpg', copy), 'same-photo-twice', null);
  });

  it.each([
    ['left', PEAK, 0.004],
    ['right', 0.004, PEAK],
    ['left', PEAK, 0],
  ] as const)('two of the %s eye', async (eye, l, r) => {
    const [one, two] = await Promise.all(
      [11, 12].map((seed) =>
        storePicture(`same-${eye}-${r}-${seed}.jpg`, expose(setting, { left: l, right: r, seed })),
      ),
    );
    const { message } = await expectRefusal(one!, two!, 'same-eye-twice', null);
    expect(message).toContain(`${eye}-eye`);
  });

  it('saved again at another quality, one of them', async () => {
    const again = await store('again.jpg', await sharp(left).jpeg({ quality: 70 }).toBuffer());
    await expectRefusal(left, again, 'same-eye-twice', null);
  });

  it('different sizes', async () => {
    const small = await store('small.jpg', await sharp(right).resize(1000).jpeg().toBuffer());
    const { message } = await expectRefusal(left, small, 'different-size', null);
    expect(message).toContain('2000 x 1300 and 1000 x 650');
  });

  it('different orientation flags', async () => {
    const turned = await store(
      'turned.jpg',
      await sharp(right).rotate(270).withMetadata({ orientation: 6 }).toBuffer(),
    );
    await expectRefusal(left, turned, 'different-size', null);
  });
});

describe('the wrong way round', () => {
  const changed = async (name: string, path: string, how: (picture: Sharp) => Sharp) =>
    store(`${name}.jpg`, await how(sharp(path)).jpeg({ quality: 95 }).toBuffer());

  const WAYS: readonly (readonly [string, (picture: Sharp) => Sharp, string])[] = [
    ['mirrored', (picture) => picture.flop(), 'mirrored'],
    ['mirrored top to bottom', (picture) => picture.flip(), 'mirrored'],
    ['upside down', (picture) => picture.rotate(180), 'upside-down'],
  ];
  it.each(WAYS)('%s, both and one', async (name, how, code) => {
    const l = await changed(`${name} l`, left, how);
    const r = await changed(`${name} r`, right, how);
    const refused = async (a: string, b: string, shot: LensRole) => expectRefusal(a, b, code, shot);
    await refused(l, r, 'left-lens');
    await refused(l, right, 'left-lens');
    await refused(left, r, 'right-lens');
  });

  it('seen from 62 and 70 degrees aside; 30 and 50 are measured', async () => {
    for (const azimuth of [62, 70]) {
      const aside = render(standAt(azimuth));
      const l = await storePicture('aside l.jpg', exposeThrough(aside, 'left'));
      const r = await storePicture('aside r.jpg', exposeThrough(aside, 'right'));
      const { facts } = await expectRefusal(l, r, 'too-oblique', 'left-lens');
      expect(Math.abs(Number(facts?.angle_deg) - azimuth)).toBeLessThan(3);
    }
    for (const azimuth of [30, 50]) {
      const aside = render(standAt(azimuth));
      const l = await storePicture('aside l.jpg', exposeThrough(aside, 'left'));
      const r = await storePicture('aside r.jpg', exposeThrough(aside, 'right'));
      expectTrue(await expectMeasured(l, r), truthOf(aside));
    }
  });
});

describe('two different targets', () => {
  const pairOf = async (aspect: number) => {
    const scene = { ...SCENE, aspect };
    const other = render(standAt(5, scene), scene);
    return {
      truth: truthOf(other),
      left: await storePicture(`left ${aspect}.jpg`, exposeThrough(other, 'left')),
      right: await storePicture(`right ${aspect}.jpg`, exposeThrough(other, 'right')),
    };
  };

  it.each([1.85, 2.39])('2.35 and %f', async (aspect) => {
    const other = await pairOf(aspect);
    await expectRefusal(left, other.right, 'inconsistent-marks', 'right-lens');
    await expectRefusal(other.left, right, 'inconsistent-marks', 'left-lens');
    const { remedy } = await expectRefusal(other.left, other.right, 'inconsistent-marks', 'left-lens');
    expect(remedy).toContain('--aspect');
    await expectRefusal(left, right, 'inconsistent-marks', 'left-lens', '--aspect', String(aspect));
    expectTrue(await expectMeasured(other.left, other.right, '--aspect', String(aspect)), other.truth);
  });
});

it('both pictures equally strong in both photographs is a finding, not a refusal', async () => {
  const [l, r] = await Promise.all(
    [21, 22].map((seed) => storePicture(`equal ${seed}.jpg`, expose(setting, { left: 0.35, right: 0.35, seed }))),
  );
  const reading = await expectMeasured(l!, r!);
  expectTrue(reading, truthOf(setting));
  expect(reading.eyes.assignment).toBe('undetermined');
  expect(reading.findings.find(({ code }) => code === 'no-polarization')?.verdict).toBe('outside');
});

it('photographs given in the wrong order are measured, and say that the eyes are swapped', async () => {
  const reading = await expectMeasured(right, left);
  expectTrue(reading, truthOf(setting));
  expect(reading.eyes.assignment).toBe('swapped');
});
