/** Learning from readings made by hand: what was turned between them is known, and what it did. */
import { describe, expect, it } from 'vitest';
import {
  learnAndAdvise,
  type LearnedFromRounds,
  learnFromRounds,
  type LearningRequest,
} from '../../../src/application/turns/learn-from-rounds.ts';
import type { MadeTurn } from '../../../src/application/turns/move-adjustments.ts';
import { learnedRecord } from '../../../src/record/learned.ts';
import type { UnwordedMeasured } from '../../../src/record/reading.ts';
import { meridian } from '../../limits/reading-of.ts';
import { sampleReading } from '../../report/sample-reading.ts';

const house = meridian();
/** Right minus left per clockwise turn of the upper screw, percent of the picture height: 2 D p / (a H), downwards. */
const UPPER_PCT = (-100 * 2 * 27_000 * 0.5) / (160 * (10_400 / 2.35));

/** The reading with other photographs and another vertical offset, whatever else was measured. */
function readingAt(vertical_pct: number, photograph: string): UnwordedMeasured {
  const { vertical_offset_pct, worst_vertical_pct } = sampleReading.misalignment;
  return {
    ...(sampleReading as unknown as UnwordedMeasured),
    shots: sampleReading.shots.map((shot, index) => ({ ...shot, sha256: `${photograph}${index}`.padEnd(64, '0') })),
    misalignment: {
      ...sampleReading.misalignment,
      vertical_offset_pct: { ...vertical_offset_pct, value: vertical_pct },
      worst_vertical_pct: { ...worst_vertical_pct, value: Math.abs(vertical_pct) },
    },
  };
}

const upper = (turns: number, direction: MadeTurn['direction'] = 'clockwise'): MadeTurn => ({
  adjustment: 'upper-screw',
  direction,
  turns,
});

function learn(made: readonly MadeTurn[], after_pct: number, some: Partial<LearningRequest> = {}) {
  const rounds = [
    { reading: readingAt(2, 'a'), made: [] },
    { reading: readingAt(after_pct, 'b'), made },
  ];
  return learnFromRounds({ house, positionsFollow: false, rounds, ...some });
}

function learned(result: ReturnType<typeof learnFromRounds>): LearnedFromRounds {
  if (result.outcome === 'refused') throw new Error(result.code);
  return result;
}

describe('what a round shows', () => {
  it('becomes the effect of the screw, in percent per turn, with what the House says beside it', () => {
    const { described } = learned(learn([upper(0.25)], 2 + 0.93 * UPPER_PCT * 0.25));
    const screw = described.adjustments.find(({ adjustment }) => adjustment === 'upper-screw')!;
    expect(screw.stated_per_turn!.vertical_offset_pct).toBeCloseTo(UPPER_PCT, 9);
    const { value, u } = screw.effect_per_turn.vertical_offset_pct;
    expect(Math.abs(value - 0.93 * UPPER_PCT)).toBeLessThan(2 * u);
    expect(screw.tried_turns).toBe(0.25);
    expect(described.outcome).toBe('learned');
    expect(described.rounds).toBe(1);
  });

  it('a screw that goes the other way is named, and the advice turns it the other way', () => {
    const after = 2 - UPPER_PCT * 0.25;
    const { described } = learned(learn([upper(0.25)], after));
    expect(described.explanations[0]).toMatchObject({ code: 'moves-the-other-way', adjustment: 'upper-screw' });
    const rounds = [{ reading: readingAt(2, 'a'), made: [] }];
    const made = [upper(0.25)];
    const advised = learnAndAdvise({ house, positionsFollow: false, rounds, reading: readingAt(after, 'b'), made });
    if (advised.outcome === 'refused') throw new Error(advised.code);
    const directions = advised.reading.turns.map(({ adjustment, direction }) => [adjustment, direction]);
    expect(directions).toContainEqual(['upper-screw', 'counter-clockwise']);
    expect(advised.reading.learning).toEqual(described);
  });

  it('without turns nothing is learned, and it says so', () => {
    const { described } = learned(learn([], 2));
    expect(described.outcome).toBe('nothing-turned');
    expect(described.rounds).toBe(0);
  });

  it('turns to and fro are no turns', () => {
    const { described } = learned(learn([upper(0.25), upper(0.25, 'counter-clockwise')], 2));
    const screw = described.adjustments.find(({ adjustment }) => adjustment === 'upper-screw')!;
    expect(screw.tried_turns).toBe(0);
  });
});

describe('what is kept', () => {
  it('is a record that reads back as it was written, and teaches the next work the same', () => {
    const { record, described } = learned(learn([upper(0.25)], 2 + 0.93 * UPPER_PCT * 0.25));
    const read = learnedRecord.parse(JSON.parse(JSON.stringify(record)));
    expect(read).toEqual(record);
    const again = learned(
      learnFromRounds({
        house,
        positionsFollow: false,
        rounds: [{ reading: readingAt(1, 'c'), made: [] }],
        saved: read,
      }),
    );
    expect(again.described.adjustments).toEqual(described.adjustments);
    expect(again.described.rounds).toBe(1);
  });

  it('of a screw that the House describes anew is forgotten, of the others it stays', () => {
    const { record } = learned(learn([upper(0.25)], 2 + 0.93 * UPPER_PCT * 0.25));
    const adjustments = house.attachment!.adjustments.map((each) =>
      each.id === 'upper-screw' && each.kind === 'mirror-tilt' ? { ...each, pitch_mm: 0.7 } : each,
    );
    const changed = { ...house, attachment: { ...house.attachment!, adjustments } };
    const { described } = learned(
      learnFromRounds({
        house: changed,
        positionsFollow: false,
        rounds: [{ reading: readingAt(1, 'c'), made: [] }],
        saved: record,
      }),
    );
    const screw = described.adjustments.find(({ adjustment }) => adjustment === 'upper-screw')!;
    expect(screw.effect_per_turn.vertical_offset_pct.value).toBeCloseTo(1.4 * UPPER_PCT, 6);
    expect(screw.tried_turns).toBe(0);
  });
});

describe('what teaches nothing', () => {
  it.each([
    [
      'the same photographs',
      {
        rounds: [
          { reading: readingAt(2, 'a'), made: [] },
          { reading: readingAt(2, 'a'), made: [upper(0.25)] },
        ],
      },
      'same-photographs',
    ],
    [
      'an adjustment that the House does not have',
      {
        rounds: [
          { reading: readingAt(2, 'a'), made: [] },
          { reading: readingAt(2, 'b'), made: [{ ...upper(0.25), adjustment: 'other' }] },
        ],
      },
      'no-such-adjustment',
    ],
    ['a house without adjustments', { house: { ...house, attachment: undefined } }, 'no-adjustments'],
  ] as const)('%s', (_, some, code) => {
    expect(learn([upper(0.25)], 1, some as Partial<LearningRequest>)).toMatchObject({ outcome: 'refused', code });
  });

  it('what was learned in another house', () => {
    const { record } = learned(learn([upper(0.25)], 2 + UPPER_PCT * 0.25));
    expect(learn([upper(0.25)], 1, { saved: { ...record, house: 'Elsewhere' } })).toMatchObject({
      code: 'another-house',
    });
  });

  it('a reading that nothing explains: the effects stay, and it says that nothing fits', () => {
    const { described } = learned(learn([upper(0.25)], 40));
    expect(described.outcome).toBe('nothing-fits');
    expect(described.rounds).toBe(0);
  });
});
