import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Diagnosis } from '../../src/record/diagnosis.ts';
import { translateCause, translateCheck } from '../../src/wording/causes.ts';
import { sampleReading } from '../report/sample-reading.ts';
import { addPair, type Bench, codeOf, measureRound, openBench, requireValue } from './open-in-folder.ts';
import { refusedPhoto, unworded } from './stand-in-engine.ts';

const GHOST = {
  crosstalk_left_pct: { value: 4.43, u: 0.02 },
  crosstalk_right_pct: { value: 0.12, u: 0.01 },
  leak_left_lens_pct: { value: 4.43, u: 0.02 },
  leak_right_lens_pct: { value: 0.12, u: 0.01 },
};
const finding = (code: string, value: number, verdict: 'outside' | 'within') => ({
  ...sampleReading.findings[0]!,
  code,
  value,
  verdict,
  unit: 'pct' as const,
  limit: 1,
  seat: null,
});

async function measureGhost(bench: Bench): Promise<void> {
  bench.engine.reading = unworded({
    eyes: { ...sampleReading.eyes, ...GHOST },
    findings: [finding('crosstalk-left', 4.43, 'outside'), finding('crosstalk-right', 0.12, 'within')],
  });
  await addPair(bench);
  await measureRound(bench);
}

const weigh = async ({ work }: Bench) =>
  requireValue(await work.call('round.update-causes', { round: 1 })) as Diagnosis;
const chanceOf = ({ causes }: Diagnosis, code: string) => causes.find((cause) => cause.code === code)?.probability ?? 0;

describe('answers of checks', () => {
  it('are kept with the round, change the order of the causes, and can be taken back', async () => {
    const bench = await openBench();
    await measureGhost(bench);
    const before = await weigh(bench);
    expect(before.causes[0]!.code).toBe('projector-polarizer-turned');
    expect(before.next_check).toMatchObject({ code: 'repeat-with-known-glasses' });
    expect(before.next_check!.check).toBe(translateCheck('repeat-with-known-glasses'));

    const given = { check: 'repeat-with-known-glasses', answer: 'right-then' };
    const { rounds } = await bench.call('round.answer-check', { round: 1, ...given });
    expect(rounds[0]!.check_answers).toEqual([given]);
    const after = await weigh(bench);
    expect(after.causes[0]!.code).toBe('glasses-lens-turned');
    expect(chanceOf(after, 'glasses-lens-turned')).toBeGreaterThan(chanceOf(before, 'glasses-lens-turned'));
    expect(after.next_check?.code).not.toBe(given.check);
    for (const { check, remedy } of after.causes) expect(`${check} ${remedy}`).toMatch(/^[A-Z].*\.$/);

    await bench.work.close();
    const again = await openBench(bench.folder);
    expect(again.now().rounds[0]!.check_answers).toEqual([given]);
    expect(await weigh(again)).toEqual(after);
    await again.call('round.answer-check', { round: 1, check: given.check, answer: null });
    expect(again.now().rounds[0]!.check_answers).toEqual([]);
    expect(await weigh(again)).toEqual(before);
  });

  it('of the same check count once, the last one', async () => {
    const bench = await openBench();
    await measureGhost(bench);
    const check = 'repeat-with-known-glasses';
    await bench.call('round.answer-check', { round: 1, check, answer: 'right-then' });
    const { rounds } = await bench.call('round.answer-check', { round: 1, check, answer: 'as-before' });
    expect(rounds[0]!.check_answers).toEqual([{ check, answer: 'as-before' }]);
  });

  it('leave the reading itself as it was', async () => {
    const bench = await openBench();
    await measureGhost(bench);
    const read = async () => requireValue(await bench.work.readingJson(1));
    const before = await read();
    await bench.call('round.answer-check', { round: 1, check: 'level-the-glasses', answer: 'ghost-goes' });
    expect(await read()).toBe(before);
  });

  it('stand in the report, with the causes in the order that they leave', async () => {
    const bench = await openBench();
    await measureGhost(bench);
    const report = async () => requireValue(await bench.work.report(1));
    expect(await report()).not.toContain('Results of checks are taken into account');
    await bench.call('round.answer-check', { round: 1, check: 'repeat-with-known-glasses', answer: 'right-then' });
    const html = await report();
    expect(html).toContain('Results of checks are taken into account');
    expect(html).toContain('right with the other glasses');
    const [first] = (await weigh(bench)).causes;
    expect(html.indexOf(translateCause(first!))).toBeGreaterThan(html.indexOf('right with the other glasses'));
    const listed = html.split('<ol class="causes">').at(-1)!;
    expect(/<b>(.*?)<\/b>/s.exec(listed)![1]).toBe(translateCause(first!));
  });

  it('change the causes of a refusal too', async () => {
    const bench = await openBench();
    const { sentence: _, ...rest } = unworded() as typeof sampleReading;
    const refusal = { code: 'mirrored', shot: 'left-lens' as const, facts: {} };
    bench.engine.reading = { ...rest, outcome: 'refused', refusal } as never;
    bench.engine.photos = { 'left-lens': refusedPhoto('mirrored') };
    await addPair(bench);
    await measureRound(bench);
    const before = await weigh(bench);
    expect(before.causes.length).toBeGreaterThan(1);
    await bench.call('round.answer-check', { round: 1, check: 'look-at-film-in-gate', answer: 'turned-over' });
    const after = await weigh(bench);
    expect(after.causes[0]!.code).toBe('film-turned-over');
    expect(chanceOf(after, 'film-turned-over')).toBeGreaterThan(chanceOf(before, 'film-turned-over'));
  });

  it('that no check has, and rounds that are not there, are refused in words', async () => {
    const bench = await openBench();
    await measureGhost(bench);
    const answer = (input: object) => bench.work.call('round.answer-check', input);
    const known = { round: 1, check: 'level-the-glasses', answer: 'ghost-goes' };
    expect(codeOf(await answer({ ...known, answer: 'perhaps' }))).toBe('invalid-input');
    expect(codeOf(await answer({ ...known, check: 'toString' }))).toBe('invalid-input');
    expect(codeOf(await answer({ ...known, round: 7 }))).toBe('no-such-round');
    expect(codeOf(await bench.work.call('round.update-causes', { round: 7 }))).toBe('no-such-round');
    expect(bench.now().rounds[0]!.check_answers).toBeUndefined();
  });

  it('that an older program knew are passed over', async () => {
    const bench = await openBench();
    await measureGhost(bench);
    const before = await weigh(bench);
    await bench.call('round.answer-check', { round: 1, check: 'level-the-glasses', answer: 'ghost-goes' });
    await bench.work.close();
    const path = join(bench.folder, 'workspace.json');
    writeFileSync(path, readFileSync(path, 'utf8').replace('level-the-glasses', 'ask-the-oracle'));
    expect(await weigh(await openBench(bench.folder))).toEqual(before);
  });
});
