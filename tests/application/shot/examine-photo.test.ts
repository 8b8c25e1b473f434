import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { examinePhoto, findSameEye, type UnwordedExamination } from '../../../src/application/shot/examine-photo.ts';
import { encodePng } from '../../../src/photo/write-photo.ts';
import { folderName, IMAGE_SETS, TEST_IMAGES } from '../../scene/test-image-sets.ts';
import { CHART, PHOTO } from '../../vision/photograph-chart.ts';
import { pixelsOf } from '../../vision/photograph-marks.ts';
import { photographChart } from '../photograph-chart.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'examine-'));
});
afterAll(() => rm(folder, { recursive: true }));

const { aspect } = CHART;
const imageOf = (set: string, lens: 'left' | 'right') =>
  join(TEST_IMAGES, folderName(IMAGE_SETS.find(({ name }) => name === set)!), `${lens}-lens.jpg`);

async function examine(set: string, lens: 'left' | 'right') {
  const { examination, ...facts } = await examinePhoto({ path: imageOf(set, lens), slot: `${lens}-lens`, aspect });
  if (examination.outcome === 'refused') throw new Error(examination.code);
  return { ...facts, ...examination };
}

describe('examinePhoto', () => {
  it('judges a photograph by itself, stage by stage', async () => {
    const stages: string[] = [];
    const path = imageOf('aligned', 'left');
    const examined = await examinePhoto({ path, slot: 'left-lens', aspect }, (stage) => stages.push(stage));
    expect(stages).toEqual(['reading', 'looking']);
    expect(examined).toMatchObject({
      width_px: 3000,
      height_px: 2000,
      examination: { outcome: 'usable', code: 'good', shows: 'left' },
    });
    expect(examined.sha256).toMatch(/^[0-9a-f]{64}$/);
  });

  it.each([
    ['aligned', 'right', 'good', 'right'],
    ['swapped', 'left', 'good', 'right'],
    ['no-polarizers', 'left', 'both-eyes', 'both'],
    ['ghost', 'left', 'good', 'left'],
    ['dim-noisy', 'right', 'dim', 'right'],
  ] as const)('%s, through the %s lens: %s, shows %s', async (set, lens, code, shows) => {
    expect(await examine(set, lens)).toMatchObject({ code, shows });
  });

  it('says how many marks are hidden, and does not make much of a few', async () => {
    const { code, facts } = await examine('obstructed', 'left');
    expect(code).toBe('good');
    expect(Number(facts.found)).toBeLessThan(Number(facts.expected));
  });

  it('gives a leak that can be found by itself', async () => {
    const { leak_pct } = await examine('no-polarizers', 'left');
    expect(leak_pct).toBeGreaterThan(80);
  });

  it('answers a file that is no photograph with the reason and the name it goes by', async () => {
    const path = join(folder, 'a3f0');
    await writeFile(path, 'no photograph at all');
    const examined = await examinePhoto({ path, slot: 'right-lens', aspect, name: 'notes.txt' });
    expect(examined).toEqual({
      sha256: null,
      width_px: null,
      height_px: null,
      examination: {
        outcome: 'refused',
        code: 'unsupported-format',
        facts: expect.objectContaining({ file: 'notes.txt' }),
      },
    });
    const missing = await examinePhoto({ path: join(folder, 'none'), slot: 'right-lens', aspect });
    expect(missing.examination).toMatchObject({ code: 'unreadable-photo', facts: { reason: 'missing' } });
  });

  it('looks thoroughly before it refuses, and keeps size and hash of what it refuses', async () => {
    const path = join(folder, 'black.png');
    await writeFile(path, await encodePng(pixelsOf(new Float64Array(600 * 400).fill(0.001), 600, 400, 8)));
    expect(await examinePhoto({ path, slot: 'bare', aspect })).toMatchObject({
      sha256: expect.stringMatching(/^[0-9a-f]{64}$/),
      width_px: 600,
      height_px: 400,
      examination: { outcome: 'refused', code: 'underexposed' },
    });
  });

  it('finds nothing to read where the target is of another shape', async () => {
    const path = join(folder, 'chart.png');
    await writeFile(path, await encodePng(photographChart({ left: 0.5, right: 0.003, seed: 1 })));
    expect((await examinePhoto({ path, slot: 'left-lens', aspect })).examination.outcome).toBe('usable');
    const other = await examinePhoto({ path, slot: 'left-lens', aspect: 1.85 });
    expect(other).toMatchObject({ width_px: PHOTO.width, examination: { outcome: 'refused' } });
  });
});

describe('findSameEye', () => {
  const shows = (eye: 'left' | 'right' | 'both') =>
    ({ outcome: 'usable', shows: eye, leak_pct: null }) as UnwordedExamination;
  const refused: UnwordedExamination = { outcome: 'refused', code: 'blurred', facts: {} };

  it('is told only where both lenses show one eye’s picture', () => {
    expect(findSameEye(shows('left'), shows('left'))).toBe('left');
    expect(findSameEye(shows('right'), shows('right'))).toBe('right');
    // Exchanged eyes and missing polarizers are for the measurement to find.
    expect(findSameEye(shows('right'), shows('left'))).toBeNull();
    expect(findSameEye(shows('both'), shows('both'))).toBeNull();
    expect(findSameEye(shows('left'), refused)).toBeNull();
    expect(findSameEye(undefined, shows('left'))).toBeNull();
  });
});
