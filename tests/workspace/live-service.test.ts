import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { FrameVerdict } from '../../src/contract/live.ts';
import type { MeasureRequest } from '../../src/engine/jobs.ts';
import type { FinishedCapture } from '../../src/engine/live-camera.ts';
import { sampleReading } from '../report/sample-reading.ts';
import { jpeg } from './jpeg.ts';
import { codeOf, measureRound, openBench, requireValue } from './open-in-folder.ts';

const MERIDIAN = JSON.parse(readFileSync(join(import.meta.dirname, '../../test-images/meridian.house.json'), 'utf8'));
const header = { serial: 7, width: 64, height: 64, range: 'video' } as const;
const luma = () => new Uint8Array(64 * 64);
const verdict: FrameVerdict = {
  serial: 7,
  hint: 'ready',
  shows: 'left',
  leak_pct: 1,
  marks: [],
  expected: 48,
  blur_px: 1,
  clipped_pct: 0,
  brightest: 0.8,
  movement_px: 0.1,
  isSteady: true,
  capture: null,
  analysis_ms: 12,
};
const finished = (slot: FinishedCapture['slot'], content: string, wander: number): FinishedCapture => ({
  slot,
  bytes: jpeg(content),
  frames: 4,
  wander_px: { x: wander, y: 0 },
  mean_u_px: { x: wander / 2, y: 0 },
});

describe('frames of a camera', () => {
  it('come back as what can be seen in them', async () => {
    const { engine, work } = await openBench();
    engine.frame = { outcome: 'judged', verdict, finished: null };
    expect(requireValue(await work.judgeFrame(header, luma()))).toEqual(verdict);
  });

  it('that were overtaken say so', async () => {
    const { work } = await openBench();
    expect(codeOf(await work.judgeFrame(header, luma()))).toBe('frame-dropped');
  });

  it('that find no engine fail in words', async () => {
    const { engine, work, faults } = await openBench();
    engine.failures.push({ kind: 'judge-frame', code: 'engine-stopped' });
    expect(codeOf(await work.judgeFrame(header, luma()))).toBe('engine-stopped');
    expect(faults).toEqual([]);
  });

  it('become a shot that says how many there were and how far they wandered', async () => {
    const { engine, work, until, call } = await openBench();
    await call('live.capture', { slot: 'left-lens', frames: 4, name: 'Camera 1' });
    expect(engine.asked.at(-1)).toEqual(['begin-capture', { slot: 'left-lens', frames: 4 }]);
    engine.frame = { outcome: 'judged', verdict, finished: finished('left-lens', 'l', 0.3) };
    requireValue(await work.judgeFrame(header, luma()));
    const { shots } = await until(({ shots: [shot] }) => shot?.examination?.outcome === 'usable');
    expect(shots).toMatchObject([
      { name: 'Camera 1', source: 'camera', frames: { count: 4, wander_px: { x: 0.3, y: 0 } } },
    ]);
    await call('live.stop');
    expect(engine.asked.at(-1)![0]).toBe('stop-live');
  });

  it('widen the uncertainty of the measurement by that of their mean places, both together', async () => {
    const bench = await openBench();
    for (const [slot, wander] of [
      ['left-lens', 0.3],
      ['right-lens', 0.4],
      ['closing', 0.5],
    ] as const) {
      bench.engine.frame = { outcome: 'judged', verdict, finished: finished(slot, slot, wander) };
      requireValue(await bench.work.judgeFrame(header, luma()));
      await bench.until(({ shots }) => shots.some((shot) => shot.slot === slot && shot.examination !== null));
    }
    await measureRound(bench);
    const { wander_px, closingWander_px } = bench.engine.asked.at(-1)![1] as MeasureRequest;
    expect(wander_px!.x).toBeCloseTo(0.5 / 2, 12);
    expect(wander_px!.y).toBe(0);
    expect(closingWander_px!.x).toBeCloseTo(Math.hypot(0.3, 0.5) / 2, 12);
  });

  it('show how the film moves: assumed in later rounds, and in the House file once that is asked for', async () => {
    const bench = await openBench();
    await bench.call('house.import', { json: MERIDIAN });
    for (const slot of ['left-lens', 'right-lens'] as const) {
      const shot = { ...finished(slot, slot, 0), frames: 17, wander_px: { x: 0.3, y: 0.5 } };
      bench.engine.frame = { outcome: 'judged', verdict, finished: shot };
      requireValue(await bench.work.judgeFrame(header, luma()));
      await bench.until(({ shots }) => shots.some((shown) => shown.slot === slot && shown.examination !== null));
    }
    const { rounds } = await measureRound(bench);
    const [first] = rounds;
    const { film } = first!.house_findings!;
    expect(film).toMatchObject({ degrees_of_freedom: 18, photographs: 2 });
    // Weighed 8 to 1, over the pixels of a picture height, times its height on the film.
    const [[xx, xy, , yx, yy], house] = [sampleReading.evidence.photo_from_chart.left, bench.now().house!];
    const perIh_px = Math.sqrt(Math.abs(xx * yy - xy * yx));
    const height_um = (1000 * house.film.picture_width_mm) / house.screen.picture_aspect;
    const moved_px = Math.sqrt((8 * 0.5 ** 2 + 0.3 ** 2) / 9);
    expect(film!.motion_um.value / ((moved_px / perIh_px) * height_um)).toBeCloseTo(1, 1);
    expect(house.film.motion_um).toBeUndefined();

    await measureRound(bench);
    const request = bench.engine.asked.at(-1)![1] as MeasureRequest;
    expect(request.house!.film.motion_um).toBeCloseTo(film!.motion_um.value, 2);
    // The same photographs measured again teach it no more.
    await bench.call('house.take-findings', {});
    expect(bench.now().house!.film).toMatchObject({ motion_degrees_of_freedom: 18 });
    expect(bench.now().rounds.some((round) => round.house_findings)).toBe(false);
  });

  it('whose shot cannot be kept are a notice', async () => {
    const { engine, work, until } = await openBench();
    engine.frame = {
      outcome: 'judged',
      verdict,
      finished: { ...finished('left-lens', '', 0), bytes: new Uint8Array(0) },
    };
    requireValue(await work.judgeFrame(header, luma()));
    const { notices } = await until(({ notices: { length } }) => length > 0);
    expect(notices[0]!.code).toBe('unreadable-photo');
  });
});
