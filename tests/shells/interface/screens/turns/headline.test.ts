import { describe, expect, it } from 'vitest';
import { formatHeadline } from '../../../../../src/shells/interface/screens/turns/headline.ts';
import type { MeasuredReading } from '../../../../../src/record/reading.ts';
import { sampleReading } from '../../../../report/sample-reading.ts';
import { readingWith, roundWith, turnOf } from './turns-work.ts';

const inside = Object.fromEntries(Object.keys(sampleReading.predicted_after).map((field) => [field, 0])) as never;
const turning = (some: Partial<MeasuredReading> = {}) =>
  readingWith({ advice: 'turn', turns: [turnOf(), turnOf({ adjustment: 'lower-screw', order: 2 })], ...some });

describe('turns', () => {
  it('that lead inside', () => {
    expect(formatHeadline(turning({ predicted_after: inside }), roundWith()).sentence).toBe(
      'Two turns, then you are inside tolerance.',
    );
  });

  it('that do not', () => {
    const predicted_after = { ...sampleReading.predicted_after, vertical_offset_pct: 5 };
    expect(formatHeadline(turning({ predicted_after }), roundWith()).sentence).toBe(
      'Two turns, then photograph again.',
    );
  });

  it('of which one is done, and all', () => {
    const made = (...ids: string[]) =>
      roundWith({ turns_made: ids.map((adjustment) => ({ adjustment, direction: 'clockwise', turns: 0.125 })) });
    const reading = turning({ predicted_after: inside });
    expect(formatHeadline(reading, made('upper-screw')).sentence).toBe('One turn more, then you are inside tolerance.');
    expect(formatHeadline(reading, made('upper-screw', 'lower-screw')).sentence).toBe('Turned. Now photograph again.');
  });
});

it.each([
  ['leave-alone', 'Nothing to turn.'],
  ['beyond-adjustment', 'No screw cures this.'],
  ['motion-only', 'The pictures have to move; by which screw, nobody has described.'],
  ['eyes-first', 'Eyes first: touch no screw yet.'],
] as const)('%s', (advice, sentence) => {
  const reading = readingWith({ advice, turns: [], trial_turns: [] });
  expect(formatHeadline(reading, roundWith())).toEqual({ sentence, addition: reading.sentence });
});
