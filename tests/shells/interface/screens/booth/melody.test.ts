import { expect, it } from 'vitest';
import { composeMelody, outcomeOf } from '../../../../../src/shells/interface/screens/booth/melody.ts';

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
