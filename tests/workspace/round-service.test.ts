import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { MeasureRequest } from '../../src/application/measure-photographs.ts';
import { readHouse } from '../../src/record/house.ts';
import type { RefusedReading } from '../../src/record/reading.ts';
import { sampleReading, sampleRefusal } from '../report/sample-reading.ts';
import { jpeg } from './jpeg.ts';
import { addPair, type Bench, codeOf, measureRound, openBench, requireValue } from './open-in-folder.ts';
import { unworded } from './stand-in-engine.ts';

const MERIDIAN = JSON.parse(readFileSync(join(import.meta.dirname, '../../test-images/meridian.house.json'), 'utf8'));

describe('measuring', () => {
  it('asks for what lies in the slots, under the names that it came with', async () => {
    const bench = await openBench();
    await bench.call('house.import', { json: MERIDIAN });
    const { shots } = await addPair(bench);
    await measureRound(bench);
    const path = (index: number) => join(bench.folder, 'photographs', `${shots[index]!.sha256}.jpg`);
    expect(bench.engine.asked.at(-1)).toEqual([
      'measure',
      {
        photographs: [
          { role: 'left-lens', path: path(0), name: 'left.jpg' },
          { role: 'right-lens', path: path(1), name: 'right.jpg' },
        ],
        house: bench.now().house,
        softwareVersion: '1.2.3',
      },
    ]);
  });

  it('asks for the shape of the target where there is no house', async () => {
    const bench = await openBench();
    await bench.call('aspect.set', { aspect: 1.85 });
    await addPair(bench);
    await measureRound(bench);
    expect(bench.engine.asked.at(-1)![1]).toMatchObject({ aspect: 1.85 });
    expect(bench.engine.asked.at(-1)![1]).not.toHaveProperty('house');
  });

  it('becomes a round with the main figures', async () => {
    const bench = await openBench();
    await addPair(bench);
    const { rounds, jobs } = await measureRound(bench);
    const { worst_vertical_pct: worst, ...terms } = sampleReading.misalignment;
    expect(rounds).toEqual([
      {
        number: 1,
        at: expect.stringMatching(/^2026-03-14T18:\d\d:00\.000Z$/),
        outcome: 'measured',
        sentence: expect.stringMatching(/\.$/),
        terms,
        worst_vertical_pct: { value: worst.value, u: worst.u },
        predicted_worst_vertical_pct: sampleReading.predicted_after.worst_vertical_pct,
        verdict: 'outside',
        shots: { 'left-lens': bench.now().shots[0]!.sha256, 'right-lens': bench.now().shots[1]!.sha256 },
        turns_made: null,
        after_turns: null,
      },
    ]);
    expect(jobs.find(({ kind }) => kind === 'measure')!.id).toBeGreaterThan(0);
    expect(requireValue(await bench.work.call('round.read', { round: 1 }))).toMatchObject({
      sentence: rounds[0]!.sentence,
    });
  });

  it('becomes a round without figures where it was refused', async () => {
    const bench = await openBench();
    const { measured_at: _, ...refused } = sampleRefusal;
    bench.engine.reading = refused;
    await addPair(bench);
    const { rounds } = await measureRound(bench);
    const { refusal } = requireValue(await bench.work.call('round.read', { round: 1 })) as RefusedReading;
    expect(rounds).toMatchObject([
      { outcome: 'refused', sentence: refusal.message, terms: null, worst_vertical_pct: null, verdict: null },
    ]);
  });

  it('gives the round of photographs that were refused to the next', async () => {
    const bench = await openBench();
    const { measured_at: _, ...refused } = sampleRefusal;
    bench.engine.reading = refused;
    await addPair(bench);
    await measureRound(bench);
    bench.engine.reading = unworded();
    requireValue(await bench.work.call('measure.start', {}));
    const { rounds } = await bench.until(({ rounds: [first] }) => first?.outcome === 'measured');
    expect(rounds.map(({ number, outcome }) => [number, outcome])).toEqual([[1, 'measured']]);
    expect(requireValue(await bench.work.call('round.read', { round: 1 }))).toMatchObject({ outcome: 'measured' });
  });

  it('takes several photographs of a role, and names them all', async () => {
    const bench = await openBench();
    for (const name of ['a', 'b', 'c']) {
      const place = { set: 'shots', role: 'bare', is_repeat: true } as const;
      requireValue(await bench.work.addPhotograph(place, `${name}.jpg`, jpeg(name)));
    }
    await bench.until(({ shots }) => shots.length === 3 && shots.every(({ examination }) => examination !== null));
    const { rounds, shots } = await measureRound(bench);
    const { photographs } = bench.engine.asked.at(-1)![1] as MeasureRequest;
    expect(photographs.map(({ role, name }) => [role, name])).toEqual([
      ['bare', 'a.jpg'],
      ['bare', 'b.jpg'],
      ['bare', 'c.jpg'],
    ]);
    const [first, ...others] = shots.map(({ sha256 }) => sha256);
    expect(rounds[0]).toMatchObject({
      shots: { bare: first },
      repeats: others.map((sha256) => ({ role: 'bare', sha256 })),
    });
    expect((await bench.work.viewPhotograph(others[0]!)).ok).toBe(true);
  });

  it.each([
    ['outside', ['within', 'undecided', 'outside']],
    ['undecided', ['within', 'undecided']],
    ['within', ['within']],
  ] as const)('is %s by the working limits', async (verdict, verdicts) => {
    const bench = await openBench();
    const [finding] = sampleReading.findings;
    bench.engine.reading = unworded({
      findings: [
        { ...finding!, level: 'maximum', verdict: 'within' },
        ...verdicts.map((each) => ({ ...finding!, level: 'working' as const, verdict: each })),
      ],
    });
    await addPair(bench);
    expect((await measureRound(bench)).rounds[0]!.verdict).toBe(verdict);
  });

  it('follows a house that is described after it: the round is measured again in its place', async () => {
    const bench = await openBench();
    await addPair(bench);
    const { at } = (await measureRound(bench)).rounds[0]!;
    const asked = bench.engine.asked.filter(([kind]) => kind === 'measure').length;
    await bench.call('house.import', { json: MERIDIAN });
    const { rounds } = await bench.until(({ jobs }) => jobs.every(({ state }) => state === 'done'));
    const requests = bench.engine.asked.filter(([kind]) => kind === 'measure');
    expect(requests).toHaveLength(asked + 1);
    expect((requests.at(-1)![1] as MeasureRequest).house).toEqual(bench.now().house);
    expect(rounds.map(({ number }) => number)).toEqual([1]);
    // Another time tells the screens that there is another reading.
    expect(rounds[0]!.at > at).toBe(true);
  });

  it('does not follow a house after something was turned', async () => {
    const bench = await openBench();
    await bench.call('house.import', { json: MERIDIAN });
    await addPair(bench);
    await measureRound(bench);
    const turned = { adjustment: 'upper-screw', direction: 'clockwise', turns: 0.125 };
    await bench.call('round.note-turns', { round: 1, turns_made: [turned] });
    const asked = bench.engine.asked.length;
    await bench.call('house.set', { house: { ...bench.now().house!, throw_m: 30 } });
    expect(bench.engine.asked).toHaveLength(asked);
    expect(bench.now().jobs.every(({ state }) => state === 'done')).toBe(true);
  });

  it('needs both photographs, and is done once at a time', async () => {
    const bench = await openBench();
    expect(codeOf(await bench.work.call('measure.start', {}))).toBe('shots-missing');
    await addPair(bench);
    bench.engine.hold();
    requireValue(await bench.work.call('measure.start', {}));
    expect(codeOf(await bench.work.call('measure.start', {}))).toBe('already-measuring');
    bench.engine.release();
    await bench.until(({ rounds }) => rounds.length === 1);
  });

  it.each([
    ['engine-stopped', 'stopped and was restarted'],
    ['engine-fault', 'A fault in Twinplumb'],
    ['out-of-memory', 'more memory'],
  ] as const)('that ends with %s fails in words, and everything measured so far stays', async (code, words) => {
    const bench = await openBench();
    await addPair(bench);
    await measureRound(bench);
    const before = bench.now();
    bench.engine.failures.push({ kind: 'measure', code });
    requireValue(await bench.work.call('measure.start', {}));
    const { jobs, rounds, shots } = await bench.until((now) => now.jobs.some(({ state }) => state === 'failed'));
    const failed = jobs.find(({ kind }) => kind === 'measure')!;
    expect(failed.failure).toMatchObject({ code, message: expect.stringContaining(words) });
    expect([rounds, shots]).toEqual([before.rounds, before.shots]);
    expect(bench.faults).toHaveLength(code === 'engine-fault' ? 1 : 0);
    const again = await measureRound(bench);
    expect(again.rounds.map(({ number }) => number)).toEqual([1, 2]);
    expect(again.jobs.filter(({ state }) => state === 'failed')).toEqual([]);
  });

  it('can be called off without a trace', async () => {
    const bench = await openBench();
    await addPair(bench);
    bench.engine.hold();
    const { job } = requireValue(await bench.work.call('measure.start', {})) as { job: number };
    await bench.call('job.cancel', { job });
    const { rounds, jobs } = await bench.until((now) => now.jobs.some(({ state }) => state === 'cancelled'));
    expect(rounds).toEqual([]);
    expect(jobs.find(({ id }) => id === job)).toMatchObject({ state: 'cancelled', failure: null });
  });
});

describe('a closing photograph', () => {
  const closing = (bench: Bench) =>
    (bench.engine.asked.at(-1)![1] as MeasureRequest).photographs.find(({ role }) => role === 'closing')?.name;

  it('counts when it was taken last, and not when it belongs to an earlier series', async () => {
    const bench = await openBench();
    await addPair(bench);
    requireValue(await bench.work.addPhotograph({ set: 'shots', role: 'closing' }, 'closing.jpg', jpeg('closing')));
    await bench.until(({ shots }) => shots.every(({ examination }) => examination !== null));
    await measureRound(bench);
    expect(closing(bench)).toBe('closing.jpg');
    const shot = bench.now().shots.find(({ slot }) => slot === 'closing')!;
    expect(bench.now().rounds[0]!.shots.closing).toBe(shot.sha256);
    await addPair(bench, ' anew');
    await measureRound(bench);
    expect(closing(bench)).toBeUndefined();
    expect(bench.now().rounds[1]!.shots).not.toHaveProperty('closing');
  });
});

describe('a photograph without glasses', () => {
  const roles = (bench: Bench) => (bench.engine.asked.at(-1)![1] as MeasureRequest).photographs.map(({ role }) => role);
  const addBare = async (bench: Bench, content: string) => {
    requireValue(await bench.work.addPhotograph({ set: 'shots', role: 'bare' }, 'bare.jpg', jpeg(content)));
    await bench.until(({ shots }) => shots.every(({ examination }) => examination !== null));
  };

  it('is enough for a round, joins a pair that was taken with it, and leaves that of an earlier round out', async () => {
    const bench = await openBench();
    await addBare(bench, 'alone');
    await measureRound(bench);
    expect(roles(bench)).toEqual(['bare']);
    await addPair(bench);
    await measureRound(bench);
    expect(roles(bench).toSorted()).toEqual(['bare', 'left-lens', 'right-lens']);
    await addBare(bench, 'after the turns');
    await measureRound(bench);
    expect(roles(bench)).toEqual(['bare']);
    expect(Object.keys(bench.now().rounds[2]!.shots)).toEqual(['bare']);
    // Measured once more it is what it was.
    await measureRound(bench);
    expect(roles(bench)).toEqual(['bare']);
    // At the end the lenses are photographed once more, without a turn in between.
    await addPair(bench, ' at the end');
    await measureRound(bench);
    expect(roles(bench).toSorted()).toEqual(['bare', 'left-lens', 'right-lens']);
  });

  it('of before the turns is left out of what was photographed through the lenses after them', async () => {
    const bench = await openBench();
    await addBare(bench, 'before');
    await measureRound(bench);
    const made = [{ adjustment: 'lower-tilt', direction: 'clockwise' as const, turns: 0.125 }];
    await bench.call('round.note-turns', { round: 1, turns_made: made });
    await addPair(bench);
    await measureRound(bench);
    expect(roles(bench)).toEqual(['left-lens', 'right-lens']);
  });
});

describe('turns that were made', () => {
  const turn = { adjustment: 'lower-tilt', direction: 'clockwise', turns: 0.125 } as const;
  const house = readHouse(MERIDIAN);
  if (house.outcome === 'refused') throw new Error('the Meridian cannot be read');
  const [adjustment] = house.house.attachment!.adjustments;
  const made = { ...turn, adjustment: adjustment!.id };
  const moved = (bench: Bench, by: number) => {
    const { misalignment } = sampleReading;
    const { value, u } = misalignment.vertical_offset_pct;
    bench.engine.reading = unworded({
      misalignment: { ...misalignment, vertical_offset_pct: { value: value + by, u } },
      shots: sampleReading.shots.map((shot) => ({ ...shot, sha256: 'c3'.repeat(32) })),
    });
  };

  it('are noted with their round, and judged by the next one', async () => {
    const bench = await openBench();
    await bench.call('house.import', { json: MERIDIAN });
    await addPair(bench);
    await measureRound(bench);
    await bench.call('round.note-turns', { round: 1, turns_made: [made] });
    expect(bench.now().rounds[0]!.turns_made).toEqual([made]);
    moved(bench, 0.3);
    const { rounds } = await measureRound(bench);
    expect(rounds[1]!.after_turns!.changes.find(({ term }) => term === 'vertical_offset_pct')!.found.value).toBeCloseTo(
      0.3,
    );
    expect(codeOf(await bench.work.call('round.note-turns', { round: 9, turns_made: [] }))).toBe('no-such-round');
  });

  it('move the adjustments of the house, and back where it was corrected', async () => {
    const bench = await openBench();
    const known = structuredClone(MERIDIAN);
    const place = () =>
      (
        bench.now().house!.attachment!.adjustments.find(({ id }) => id === made.adjustment) as {
          position_turns?: number;
        }
      ).position_turns;
    known.attachment.adjustments.find(({ id }: { id: string }) => id === made.adjustment).position_turns = 0.5;
    await bench.call('house.import', { json: known });
    await addPair(bench);
    await measureRound(bench);
    await bench.call('round.note-turns', { round: 1, turns_made: [made] });
    expect(place()).toBe(0.625);
    await bench.call('round.note-turns', { round: 1, turns_made: [{ ...made, direction: 'counter-clockwise' }] });
    expect(place()).toBe(0.375);
    await bench.call('round.note-turns', { round: 1, turns_made: [] });
    expect(place()).toBe(0.5);
  });

  it('may be noted late, or corrected: the round after them is judged again', async () => {
    const bench = await openBench();
    await bench.call('house.import', { json: MERIDIAN });
    await addPair(bench);
    await measureRound(bench);
    moved(bench, 0.3);
    expect((await measureRound(bench)).rounds[1]!.after_turns).toBeNull();
    await bench.call('round.note-turns', { round: 1, turns_made: [made] });
    expect(bench.now().rounds[1]!.after_turns).toMatchObject({ changes: expect.any(Array) });
    await bench.call('round.note-turns', { round: 1, turns_made: [] });
    expect(bench.now().rounds[1]!.after_turns).toBeNull();
  });
});

describe('what the rounds have shown of film and glasses', () => {
  const lens = { right_arcmin: 0.4, up_arcmin: -0.2, u_arcmin: 0.1, turn_deg: 0.01, u_turn_deg: 0.005 };
  const film = { motion_um: { value: 3, u: 0.5 }, degrees_of_freedom: 12, photographs: 8 };
  const learned = { film, glasses: { left: lens, right: lens } };

  it('holds for the next rounds, and is taken into the house once when that is asked for', async () => {
    const bench = await openBench();
    await bench.call('house.import', { json: MERIDIAN });
    await addPair(bench);
    bench.engine.reading = unworded({ house_findings: learned });
    await measureRound(bench);
    expect(bench.now().house!.film.motion_um).toBeUndefined();
    bench.engine.reading = unworded();
    await measureRound(bench);
    const request = bench.engine.asked.at(-1)![1] as MeasureRequest;
    expect(request.house!.film).toMatchObject({ motion_um: 3, motion_degrees_of_freedom: 12 });
    expect(request.house!.glasses).toEqual(learned.glasses);

    await bench.call('house.take-findings', {});
    expect(bench.now().house).toEqual(request.house);
    expect(bench.now().rounds.some((round) => round.house_findings)).toBe(false);
    await bench.call('house.take-findings', {});
    expect(bench.now().house).toEqual(request.house);
  });
});
