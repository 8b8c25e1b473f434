import { describe, expect, it } from 'vitest';
import type { Job, Workspace } from '../../../../../src/contract/workspace.ts';
import type { MeasuredReading, Reading } from '../../../../../src/record/reading.ts';
import {
  answerBooth,
  chooseContent,
  commandOfKey,
  composeMelody,
  makeBounceGuard,
  outcomeOf,
} from '../../../../../src/shells/interface/screens/booth/booth-content.ts';
import { sampleReading, sampleRefusal } from '../../../../report/sample-reading.ts';
import { readingWith, roundWith, turnOf } from '../turns/turns-work.ts';

const job = (some: Partial<Job>): Job => ({
  id: 1,
  kind: 'measure',
  stage: 'looking',
  fraction: 0.4,
  state: 'running',
  failure: null,
  ...some,
});
const choose = (some: Partial<Workspace>, reading?: Reading) =>
  chooseContent({ jobs: [], rounds: [roundWith()], ...some } as Workspace, reading);

const still = Object.fromEntries(Object.keys(sampleReading.predicted_after).map((field) => [field, 0])) as never;
const turning = readingWith({
  advice: 'turn',
  predicted_after: still,
  turns: [turnOf(), turnOf({ adjustment: 'lower-screw', order: 2 })],
});
const made = (...ids: string[]) => [
  roundWith({ turns_made: ids.map((adjustment) => ({ adjustment, direction: 'clockwise', turns: 0.125 })) }),
];
const quiet = (findings: MeasuredReading['findings']) =>
  readingWith({ advice: 'leave-alone', turns: [], trial_turns: [], findings });

it('shows work that is going on before anything else', () => {
  expect(choose({ jobs: [job({})] }, turning)).toEqual({ kind: 'measuring', fraction: 0.4 });
  expect(choose({ jobs: [job({ kind: 'examine' })] }, turning).kind).toBe('step');
});

it('shows why the last work failed, until another begins', () => {
  const failure = { code: 'x', message: 'It stopped.', remedy: 'Again.' };
  const failed = job({ state: 'failed', failure });
  expect(choose({ jobs: [failed] })).toEqual({ kind: 'refused', message: 'It stopped.', remedy: 'Again.' });
  expect(choose({ jobs: [failed, job({ id: 2, state: 'done' })] }, turning).kind).toBe('step');
});

it('says that there is nothing yet, and that a reading is on its way', () => {
  expect(choose({ rounds: [] }).kind).toBe('nothing-yet');
  expect(choose({}).kind).toBe('coming');
});

it('shows a refusal with its remedy', () => {
  const { message, remedy } = sampleRefusal.refusal;
  expect(choose({}, sampleRefusal)).toEqual({ kind: 'refused', message, remedy });
});

describe('turns', () => {
  it('one at a time', () => {
    expect(choose({}, turning)).toMatchObject({
      kind: 'step',
      number: 1,
      count: 2,
      after: 'next',
      following: { turn: { adjustment: 'lower-screw' } },
    });
    const second = choose({ rounds: made('upper-screw') }, turning);
    expect(second).toMatchObject({ kind: 'step', number: 2, count: 2, after: 'inside' });
    expect(choose({ rounds: made('upper-screw', 'lower-screw') }, turning).kind).toBe('turned');
  });

  it('promise nothing that the prediction does not', () => {
    const predicted_after = { ...sampleReading.predicted_after, vertical_offset_pct: 5 };
    const reading = { ...turning, turns: [turnOf()], predicted_after };
    expect(choose({}, reading)).toMatchObject({ after: 'photograph' });
  });
});

describe('the verdict beside a sentence', () => {
  const finding = sampleReading.findings[0]!;
  it.each([
    ['within', [{ ...finding, verdict: 'within' }]],
    ['undecided', [{ ...finding, level: 'working', verdict: 'undecided' }]],
    ['within', [{ ...finding, level: 'maximum', verdict: 'undecided' }]],
    ['outside', [{ ...finding, code: 'eyes-exchanged', level: 'maximum', verdict: 'outside' }]],
  ] as const)('%s', (verdict, findings) => {
    expect(choose({}, quiet([...findings]))).toMatchObject({ kind: 'sentence', verdict });
  });
});

const pitches = (outcome: Parameters<typeof composeMelody>[0]) => composeMelody(outcome).map(({ hz }) => hz);

it('goes up, stays or goes down, so that it is told apart without an ear for pitch', () => {
  const within = pitches('within');
  expect(within).toEqual(within.toSorted((a, b) => a - b));
  expect(new Set(within).size).toBe(3);
  expect(new Set(pitches('not-within')).size).toBe(1);
  const [high, low] = pitches('refused');
  expect(low).toBeLessThan(high!);
});

it('is over within a second, one note after the other', () => {
  for (const outcome of ['within', 'not-within', 'refused'] as const) {
    const notes = composeMelody(outcome);
    notes.slice(1).forEach((note, i) => {
      expect(note.from_s).toBeGreaterThan(notes[i]!.from_s + notes[i]!.for_s);
    });
    const last = notes.at(-1)!;
    expect(last.from_s + last.for_s).toBeLessThan(1);
  }
});

it('says of a round what it came to', () => {
  expect(outcomeOf({ outcome: 'refused', verdict: null })).toBe('refused');
  expect(outcomeOf({ outcome: 'measured', verdict: 'within' })).toBe('within');
  expect(outcomeOf({ outcome: 'measured', verdict: 'undecided' })).toBe('not-within');
});

describe('an answer', () => {
  it.each([
    [' ', 'next'],
    ['Enter', 'next'],
    ['PageDown', 'next'],
    ['PageUp', 'back'],
    ['Backspace', 'back'],
    ['Escape', 'leave'],
    ['x', null],
    ['Shift', null],
    ['F5', null],
  ])('%s: %s', (key, command) => {
    expect(commandOfKey({ key, repeat: false })).toBe(command);
    expect(commandOfKey({ key, repeat: true })).toBeNull();
  });

  it('goes through both moves of a step, notes it as advised, and goes back', () => {
    const approach = { finish: 'clockwise', overshoot_turns: 1 / 16 } as const;
    const reading = { ...turning, turns: [turnOf({ direction: 'counter-clockwise', approach })] };
    const step = choose({}, reading);
    const second = { adjustment: 'upper-screw', move: 1 };
    expect(answerBooth('next', step, null, null)).toEqual({ kind: 'place', place: second });
    expect(answerBooth('back', step, second, null)).toEqual({ kind: 'place', place: { ...second, move: 0 } });
    const turns_made = [{ adjustment: 'upper-screw', direction: 'counter-clockwise', turns: 1 / 8 }];
    expect(answerBooth('next', step, second, null)).toEqual({ kind: 'note', turns_made, place: null });
    // A place that was in another step is the beginning of this one.
    expect(answerBooth('next', step, { adjustment: 'lower-screw', move: 1 }, null)?.kind).toBe('place');
    const done = choose({ rounds: made('upper-screw') }, { ...reading, turns: [turnOf()] });
    expect(answerBooth('back', done, null, [...made('upper-screw')[0]!.turns_made!])).toEqual({
      kind: 'note',
      turns_made: [],
      place: null,
    });
    expect(answerBooth('next', done, null, null)).toBeNull();
    expect(answerBooth('back', step, null, null)).toBeNull();
  });

  it('that bounces counts once', () => {
    const isLetThrough = makeBounceGuard();
    expect([1000, 1150, 1390, 1401].map(isLetThrough)).toEqual([true, false, false, true]);
  });
});
