/** Turns between rounds teach what the adjustments do: in the next advice, in the house, in the next work. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { MeasuredReading } from '../../src/record/reading.ts';
import { sampleReading } from '../report/sample-reading.ts';
import { addPair, type Bench, codeOf, measureRound, openBench } from './open-in-folder.ts';
import { unworded } from './stand-in-engine.ts';

const MERIDIAN = JSON.parse(readFileSync(join(import.meta.dirname, '../../test-images/meridian.house.json'), 'utf8'));

describe('turns that were noted', () => {
  /** The next photographs show the right-eye picture higher by so much. */
  const moved = (bench: Bench, by: number) => {
    const { misalignment } = sampleReading;
    const { value, u } = misalignment.vertical_offset_pct;
    bench.engine.reading = unworded({
      misalignment: { ...misalignment, vertical_offset_pct: { value: value + by, u } },
      shots: sampleReading.shots.map((shot) => ({ ...shot, sha256: 'c3'.repeat(32) })),
    });
  };
  const describeUnknown = async (bench: Bench) => {
    const unknown = structuredClone(MERIDIAN);
    unknown.attachment.adjustments = [
      { kind: 'unknown', id: 'trial', label: 'Trial screw', moves: 'apart', affects: 'vertical', range_turns: 8 },
    ];
    expect(codeOf(await bench.work.call('house.import', { json: unknown }))).toBe('ok');
  };
  const ofTrial = { adjustment: 'trial', direction: 'clockwise', turns: 0.125 } as const;
  const readingOf = async (bench: Bench, round: number) =>
    (await bench.call('round.read', { round })) as unknown as MeasuredReading;

  it('teach what an adjustment does: the next advice counts with it', async () => {
    const bench = await openBench();
    await describeUnknown(bench);
    await addPair(bench);
    await measureRound(bench);
    expect((await readingOf(bench, 1)).learning).toBeUndefined();
    await bench.call('round.note-turns', { round: 1, turns_made: [ofTrial] });
    moved(bench, 0.3);
    await measureRound(bench);
    const { learning, turns } = await readingOf(bench, 2);
    const [effect] = learning!.adjustments;
    const { value, u } = effect!.effect_per_turn.vertical_offset_pct;
    expect(Math.abs(value - 0.3 / 0.125)).toBeLessThan(2 * u);
    expect(turns.map(({ adjustment }) => adjustment)).toEqual(['trial']);
    expect(learning!.sentence).not.toBe('');
  });

  it('teach as well where they are noted after the next round was measured', async () => {
    const bench = await openBench();
    await describeUnknown(bench);
    await addPair(bench);
    await measureRound(bench);
    moved(bench, 0.3);
    await measureRound(bench);
    expect((await readingOf(bench, 2)).learning).toBeUndefined();
    await bench.call('round.note-turns', { round: 1, turns_made: [ofTrial] });
    await expect.poll(async () => (await readingOf(bench, 2)).learning?.rounds).toBe(1);
  });

  it('are taken into the house when that is asked for, and not counted twice', async () => {
    const bench = await openBench();
    await describeUnknown(bench);
    await addPair(bench);
    await measureRound(bench);
    await bench.call('round.note-turns', { round: 1, turns_made: [ofTrial] });
    moved(bench, 0.3);
    await measureRound(bench);
    await bench.call('learned.take', {});
    const [taken] = bench.now().house!.attachment!.adjustments;
    expect(taken).toMatchObject({ kind: 'stated', id: 'trial' });
    const { vertical_pct } = (taken as { effect_per_turn: { vertical_pct: number } }).effect_per_turn;
    expect(vertical_pct / 2.4).toBeCloseTo(1, 1);
    expect(bench.now().learned_until).toBe(2);
    // The last round follows the house; with nothing turned since, the screw stands at what the house says.
    await expect.poll(async () => (await readingOf(bench, 2)).learning?.adjustments[0]?.tried_turns).toBe(0);
  });

  it('are forgotten when the attachment is another one', async () => {
    const bench = await openBench();
    await describeUnknown(bench);
    await addPair(bench);
    await measureRound(bench);
    await bench.call('round.note-turns', { round: 1, turns_made: [ofTrial] });
    moved(bench, 0.3);
    await measureRound(bench);
    await bench.call('learned.forget', {});
    await expect.poll(async () => (await readingOf(bench, 2)).learning).toBeUndefined();
  });

  it('of an earlier work count in the next one of the same house', async () => {
    const bench = await openBench();
    await describeUnknown(bench);
    await addPair(bench);
    await measureRound(bench);
    await bench.call('round.note-turns', { round: 1, turns_made: [ofTrial] });
    moved(bench, 0.3);
    await measureRound(bench);
    await bench.call('workspace.start-over', {});
    await addPair(bench);
    await measureRound(bench);
    const { learning, turns } = await readingOf(bench, 1);
    expect(learning).toMatchObject({ outcome: 'nothing-turned', rounds: 1 });
    expect(turns.map(({ adjustment }) => adjustment)).toEqual(['trial']);
  });
});
