/** The worker's side of a job, without the thread. */
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { EXAMINING, MEASURING, runJob } from '../../src/engine/jobs.ts';
import type { FrameAnswer } from '../../src/engine/live-camera.ts';
import { memoryOf } from '../../src/engine/worker-link.ts';
import type { UnwordedNullSearch } from '../../src/record/null-search.ts';
import { MERIDIAN_SCENE } from '../../src/scene/scene.ts';
import { photographPorts } from '../application/polarizers/lit-ports.ts';
import { Darkroom, PolarizedShots, shotOf } from '../application/light/photograph-hall.ts';
import { photographChart } from '../application/photograph-chart.ts';
import { folderName, IMAGE_SETS, TEST_IMAGES } from '../scene/test-image-sets.ts';
import { CHART, PHOTO } from '../vision/photograph-chart.ts';

const path = join(TEST_IMAGES, folderName(IMAGE_SETS[0]!), 'left-lens.jpg');
const { aspect } = CHART;
const silent = () => {};

describe('runJob', () => {
  it('tells the stages of an examination with the parts that lie behind', async () => {
    const told: unknown[] = [];
    const request = { path, slot: 'left-lens', aspect } as const;
    const answer = await runJob('examine', request, (...progress) => told.push(progress));
    expect(answer).toMatchObject({ width_px: 3000, examination: { outcome: 'usable' } });
    expect(told).toEqual(Object.entries(EXAMINING));
  });

  it('measures light', async () => {
    const told: unknown[] = [];
    const pictures = [{ path, name: 'left.jpg', role: 'left-lens' }] as const;
    const request = { subject: 'target', pictures, aspect, softwareVersion: '1' } as const;
    const answer = await runJob('measure-light', request, (...progress) => told.push(progress));
    expect(answer).toMatchObject({ outcome: 'measured', pictures: [{ picture: 'left-eye', role: 'left-lens' }] });
    expect(told).toEqual([['light', 0]]);
  });

  it('finds a null, and tells how many photographs of the series lie behind', async () => {
    const darkroom = new Darkroom();
    const { polarization } = MERIDIAN_SCENE;
    const shots = new PolarizedShots(MERIDIAN_SCENE, shotOf(MERIDIAN_SCENE, 'left'));
    const reference = await darkroom.develop('reference.jpg', shots.through('right', polarization, 90));
    const series = [];
    for (const turn_deg of [-10, 0, 10]) {
      const turned = { ...polarization, pictureError_deg: { left: 0, right: turn_deg - 2 } };
      series.push({
        ...(await darkroom.develop(`${turn_deg}.jpg`, shots.through('left', turned, turn_deg + 20))),
        turn_deg,
      });
    }
    const told: unknown[] = [];
    const request = {
      lens: 'left',
      turned: 'polarizer',
      shots: series,
      reference,
      aspect,
      softwareVersion: '1',
    } as const;
    const answer = await runJob('search-null', request, (...progress) => told.push(progress));
    darkroom.close();
    expect(told).toEqual([0.5, 0.75, 1].map((part) => ['series', part]));
    const found = answer as Extract<UnwordedNullSearch, { outcome: 'found' }>;
    expect(found.outcome).toBe('found');
    expect(Math.abs(found.null_deg!.value - 2)).toBeLessThan(2 * found.null_deg!.u);
  });

  it('compares the ports', async () => {
    const darkroom = new Darkroom();
    const request = { ...(await photographPorts(darkroom)), softwareVersion: '1' };
    const answer = await runJob('compare-ports', request, silent);
    darkroom.close();
    expect(answer).toMatchObject({ outcome: 'compared', verdict: 'as-expected' });
  });

  it('keeps one watch over the frames of a camera, and begins anew for another target', async () => {
    const luma = photographChart({ left: 0.5, right: 0.003, seed: 1 }).data as Uint8Array<ArrayBuffer>;
    const frame = (serial: number, shape = aspect) => {
      const header = { serial, ...PHOTO, range: 'full' as const };
      return runJob('judge-frame', { header, luma, aspect: shape, at_ms: 150 * serial }, silent);
    };
    await runJob('begin-capture', { slot: 'bare', frames: 50 }, silent);
    const gathered: number[] = [];
    for (const serial of [1, 2, 3, 4, 5, 6, 7]) {
      const answer = (await frame(serial)) as Extract<FrameAnswer, { outcome: 'judged' }>;
      expect(answer.verdict.capture).toMatchObject({ slot: 'bare', want: 50 });
      gathered.push(answer.verdict.capture!.have);
    }
    // A picture must be known to stand still before its frames count; from then on every one does.
    expect(gathered[0]).toBe(0);
    expect(gathered.at(-1)).toBeGreaterThan(1);
    expect(gathered.at(-1)).toBe(gathered.at(-2)! + 1);
    expect(await frame(8, 1.85)).toMatchObject({ verdict: { shows: null, capture: null } });
    await runJob('begin-capture', { slot: 'bare', frames: 50 }, silent);
    await runJob('stop-live', undefined, silent);
    expect(await frame(9)).toMatchObject({ verdict: { shows: 'left', capture: null } });
  });
});

describe('the parts that lie behind', () => {
  it.each([Object.values(MEASURING), Object.values(EXAMINING)])('grow from stage to stage, %o %o', (...parts) => {
    expect(parts[0]).toBe(0);
    for (let i = 1; i < parts.length; i++) expect(parts[i]).toBeGreaterThan(parts[i - 1]!);
    expect(parts.at(-1)).toBeLessThan(1);
  });
});

describe('memoryOf', () => {
  it('finds whole pictures wherever they are, each once, and leaves parts of larger memory alone', () => {
    const [a, b, c] = [new Uint8Array(10), new Uint8Array(20), new Uint8Array(30)];
    const crops = [{ place: 'centre', jpeg: { 'left-lens': b, 'right-lens': c.subarray(3) } }];
    const answer = { overlay: { jpeg: a, again: a }, crops, none: null };
    expect(memoryOf(answer)).toEqual([a.buffer, b.buffer]);
    expect(memoryOf(undefined)).toEqual([]);
  });
});
