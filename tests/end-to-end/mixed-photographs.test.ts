/** Photographs that do not belong together, or were not taken as they are said to be: each has a sentence and a remedy. */
import { readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Sharp } from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Reading, reading as readingSchema } from '../../src/record/reading.ts';
import type { Scene } from '../../src/scene/scene.ts';
import { expectRefusal, run } from './run-measure-command.ts';
import {
  expose,
  exposeThrough,
  PEAK,
  render,
  SCENE,
  standAt,
  storeInFolder,
  storePicture,
} from './simulated-photographs.ts';

storeInFolder();

/** Half a percent higher, from the same place. */
const TURNED: Scene = {
  ...SCENE,
  projector: {
    ...SCENE.projector,
    misalignment: {
      ...SCENE.projector.misalignment,
      verticalOffset: SCENE.projector.misalignment.verticalOffset - 0.01,
    },
  },
};

const seen = {
  left: exposeThrough(render(), 'left', { leak: 0 }),
  right: exposeThrough(render(), 'right', { leak: 0 }),
};
const paths = { left: '', right: '', bare: '', again: '', turned: '', elsewhere: '', blurred: '' };

beforeAll(async () => {
  const [usual, turned, elsewhere] = [render(), render(standAt(5), TURNED), render(standAt(16))];
  const bare = (seed: number, blur_px?: number) =>
    expose(usual, { left: PEAK, right: PEAK, seed, ...(blur_px !== undefined && { blur_px }) });
  paths.left = await storePicture('left.jpg', seen.left);
  paths.right = await storePicture('right.jpg', seen.right);
  paths.bare = await storePicture('bare.jpg', bare(3));
  paths.again = await storePicture('again.jpg', bare(4));
  paths.blurred = await storePicture('blurred.jpg', bare(5, 9));
  paths.turned = await storePicture('turned.jpg', expose(turned, { left: PEAK, right: PEAK, seed: 6 }));
  paths.elsewhere = await storePicture('elsewhere.jpg', exposeThrough(elsewhere, 'right', { leak: 0 }));
});

async function measure(...words: readonly string[]): Promise<Reading> {
  const { stdout } = await run(['measure', ...words, '--json']);
  return readingSchema.parse(JSON.parse(stdout));
}

/** The warning of a code, in words; undefined where there is none. */
async function warn(code: string, ...words: readonly string[]): Promise<string | undefined> {
  const reading = await measure(...words);
  if (reading.outcome === 'refused') throw new Error(reading.refusal.message);
  return reading.warnings.find((warning) => warning.code === code)?.message;
}

describe('of two states of the machine', () => {
  it('with and without glasses: the numbers are those of the one without, and it is said', async () => {
    const words = ['--bare', paths.turned, '--left', paths.left, '--right', paths.right];
    const said = await warn('pair-differs', ...words);
    expect(said).toMatch(/^The photographs through the lenses show the two pictures elsewhere \(by 1\.\d+ %\)/);
    expect(said).toContain('take all of them again in one go.');
    const alone = await measure('--bare', paths.turned);
    const together = await measure(...words);
    if (alone.outcome === 'refused' || together.outcome === 'refused') throw new Error('refused');
    expect(together.misalignment).toEqual(alone.misalignment);
  });

  it('with and without glasses of one state agree, and that is said', async () => {
    const words = ['--bare', paths.bare, '--left', paths.left, '--right', paths.right];
    const reading = await measure(...words);
    if (reading.outcome === 'refused') throw new Error(reading.refusal.message);
    expect(reading.pair_check!.apart_pct).toBeLessThan(0.05);
    expect(reading.warnings.map(({ code }) => code)).toEqual(['house-assumed']);
    const { stdout } = await run(['measure', ...words]);
    expect(stdout.replace(/\s+/g, ' ')).toMatch(/The photographs through the lenses say the same to 0\.0\d+ %/);
  });

  it('all without glasses: that they do not agree', async () => {
    expect(await warn('repeats-differ', '--bare', paths.bare, paths.turned)).toMatch(
      /^The photographs without glasses do not agree \(scatter .* one state only\.$/,
    );
    expect(await warn('repeats-differ', '--bare', paths.bare, paths.again)).toBeUndefined();
  });
});

describe('of two places or zooms', () => {
  it('one through each lens: refused, because what lies between them is no misalignment', async () => {
    const { message, remedy } = await expectRefusal(paths.left, paths.elsewhere, 'places-differ', null);
    expect(message).toContain('from different places or with different zooms');
    expect(remedy).toContain('without glasses');
  });

  it('known from what the cameras wrote: refused as a pair, named beside one without glasses', async () => {
    const at = (name: string, focal: string, lens: 'left' | 'right') =>
      storePicture(name, seen[lens], (picture) =>
        picture.jpeg({ quality: 92 }).withExif({ IFD2: { FocalLength: focal } }),
      );
    const [left, right] = [await at('35.jpg', '35/1', 'left'), await at('50.jpg', '50/1', 'right')];
    const { message } = await expectRefusal(left, right, 'places-differ', null);
    expect(message).toContain('(35 and 50 mm)');
    const said = await warn('zooms-differ', '--bare', paths.bare, '--left', left, '--right', right);
    expect(said).toMatch(/zoom was changed between the photographs \(35 and 50 mm\).*\.$/);
  });
});

describe('in the wrong place', () => {
  it('one without glasses as one through a lens: that both pictures show alike', async () => {
    expect(await warn('lens-shows-both', '--left', paths.bare, '--right', paths.right)).toMatch(
      /^Through the left lens both pictures show almost alike.*as one without glasses, and take it again/,
    );
    expect(await warn('lens-shows-both', '--left', paths.bare, '--right', paths.again)).toMatch(/^Through both lenses/);
    expect(await warn('lens-shows-both', '--left', paths.left, '--right', paths.right)).toBeUndefined();
  });

  it('one through a lens as one without glasses: refused, and named where there are others', async () => {
    const alone = await measure('--bare', paths.left);
    expect(alone).toMatchObject({ outcome: 'refused', refusal: { code: 'not-bare', shot: 'bare' } });
    expect(alone.outcome === 'refused' && alone.refusal.message).toContain('only the left-eye picture is there');
    expect(await warn('photograph-left-out', '--bare', paths.bare, paths.right)).toContain('right.jpg');
  });
});

describe('of several', () => {
  it('one that is blurred is left out and named', async () => {
    const said = await warn('photograph-left-out', '--bare', paths.bare, paths.blurred, paths.again);
    expect(said).toMatch(
      /^Photograph 2 without glasses \(.*blurred\.jpg\) cannot be used and was left out: it is not sharp\.$/,
    );
  });

  it('the one whose marks are listed is named, and drawn in the report', async () => {
    const report = join(tmpdir(), `several-${process.pid}.html`);
    const words = ['--bare', paths.blurred, paths.bare, paths.again, '--report', report, '--force'];
    const reading = await measure(...words);
    const html = await readFile(report, 'utf8');
    await rm(report);
    if (reading.outcome === 'refused') throw new Error(reading.refusal.message);
    const shown = reading.shots.filter(({ marks_shown }) => marks_shown);
    expect(shown.map(({ file }) => file.replace(/^.*[/]/, ''))).toEqual([
      expect.stringMatching(/^(bare|again)[.]jpg$/),
    ]);
    expect(html).toContain('data:image/jpeg;base64,');
  });
});

describe('with exposure times', () => {
  const widthWith = async (name: string, exposure?: string) => {
    const form = (picture: Sharp) => {
      const stored = picture.jpeg({ quality: 92 });
      return exposure === undefined ? stored : stored.withExif({ IFD2: { ExposureTime: exposure } });
    };
    const [left, right] = [
      await storePicture(`${name}-l.jpg`, seen.left, form),
      await storePicture(`${name}-r.jpg`, seen.right, form),
    ];
    const reading = await measure('--left', left, '--right', right);
    if (reading.outcome === 'refused') throw new Error(reading.refusal.message);
    const said = reading.warnings.find(({ code }) => code === 'two-exposures')!.message;
    return { u: reading.misalignment.vertical_offset_pct.u, said };
  };

  it('that are missing or absurd: one frame of film is supposed, never the less that a long exposure leaves', async () => {
    const none = await widthWith('none');
    const [quarter, zero, week] = [
      await widthWith('quarter', '1/4'),
      await widthWith('zero', '0/1'),
      await widthWith('week', '604800/1'),
    ];
    expect(quarter.u).toBeLessThan(0.95 * none.u);
    expect(quarter.said).not.toMatch(/how long|cannot be/);
    for (const { u } of [zero, week]) expect(u).toBeCloseTo(none.u, 6);
    for (const { said } of [none, zero])
      expect(said).toMatch(/do not say how long they were exposed.*let the camera write/);
    expect(week.said).toMatch(/exposure time cannot be.*set the camera’s exposure by hand/);
  });
});
