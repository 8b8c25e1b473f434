import { describe, expect, it } from 'vitest';
import type { Job, Workspace } from '../../../../../src/contract/workspace.ts';
import type { MeasuredReading, Reading } from '../../../../../src/record/reading.ts';
import {
  chooseContent,
  composeMelody,
  isLeavingKey,
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
    expect(choose({}, turning)).toMatchObject({ kind: 'step', number: 1, count: 2, after: 'next' });
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

it.each(['Escape', 'Enter', ' ', 'a', 'Tab', 'F5', 'ArrowLeft'])('%s leads back', (key) => {
  expect(isLeavingKey({ key, repeat: false })).toBe(true);
  expect(isLeavingKey({ key, repeat: true })).toBe(false);
});

it.each(['Shift', 'Control', 'Alt', 'Meta', 'CapsLock', 'AudioVolumeUp', 'BrightnessDown'])('%s stays', (key) => {
  expect(isLeavingKey({ key, repeat: false })).toBe(false);
});
