import { describe, expect, it } from 'vitest';
import type { MeasuredReading } from '../../../../../src/record/reading.ts';
import {
  directionSeenFrom,
  formatAmount,
  formatDirection,
  formatHeadline,
  formatMoves,
  listInstructions,
  listRemarks,
  nameTurn,
} from '../../../../../src/shells/interface/screens/turns/turn-words.ts';
import { sampleReading } from '../../../../report/sample-reading.ts';
import { readingWith, roundWith, turnOf } from './turns-work.ts';

const played = { finish: 'clockwise', overshoot_turns: 1 / 16 } as const;
const whole = turnOf({
  label: 'whole attachment, in its ring',
  moves: 'apart',
  turns: 0.4 / 360,
  degrees: { value: 0.4, u: 0.02 },
  polarizers_turn_deg: 0.4,
});

it('names the adjustment and the amount', () => {
  expect(nameTurn(turnOf())).toBe('Upper screw');
  expect(formatAmount(turnOf())).toBe('1/8 turn');
  expect(formatAmount(whole)).toBe('0.4°');
});

describe('how the hand gets it right', () => {
  it('clockwise, with play', () => {
    const approach = { ...played, overshoot_turns: 0 };
    expect(listInstructions(turnOf({ approach }), 'audience', 'metric')).toEqual([
      '45°: 3/4 of a hexagon’s flat, 1/2 of a slot’s quarter.',
      'Finish clockwise to take up backlash.',
    ]);
  });

  it('counter-clockwise, with play: past the end and back', () => {
    const turn = turnOf({ direction: 'counter-clockwise', approach: played });
    expect(listInstructions(turn, 'projector', 'metric')).toEqual([
      '67.5°: 1 1/8 of a hexagon’s flat, 3/4 of a slot’s quarter.',
      'In all 1/8 turn counter-clockwise; going past and back takes up backlash.',
    ]);
    expect(formatMoves(turn)).toBe('3/16 turn counter-clockwise, then 1/16 turn clockwise');
    expect(formatMoves(turnOf({ approach: played }))).toBe('1/8 turn clockwise');
  });

  it('more than one turn', () => {
    expect(listInstructions(turnOf({ turns: 2.25 }), 'audience', 'metric')).toEqual([
      '2 whole turns, then 90°: 1 1/2 of a hexagon’s flat, 1 of a slot’s quarter.',
    ]);
    expect(listInstructions(turnOf({ turns: 2 }), 'audience', 'metric')).toEqual([]);
  });

  it('by hand, from either side', () => {
    expect(listInstructions(whole, 'audience', 'metric')).toEqual([
      'On a strip of tape 100 mm from the axis that is 0.70 mm.',
    ]);
    expect(listInstructions(whole, 'audience', 'inch')).toEqual([
      'On a strip of tape 4 in from the axis that is 0.028 in.',
    ]);
    expect(formatDirection(whole, 'projector')).toBe('counter-clockwise');
    expect(listInstructions(whole, 'projector', 'metric')[1]).toBe(
      'As you see it from the projector; from the audience it is clockwise.',
    );
    // A screw is looked at on its head, wherever one stands.
    expect(formatDirection(turnOf(), 'projector')).toBe('clockwise');
  });
});

it('says what else to know', () => {
  expect(listRemarks(turnOf({ position_assumed: true }))).toEqual([
    'On top.',
    'Needed to ± 0.008 turn (95 %).',
    'Position unknown: stop at resistance.',
  ]);
  expect(listRemarks(whole)).toContain(
    'Polarizers fixed to the attachment turn with it, by 0.40°: look at the ghost afterwards.',
  );
  expect(listRemarks(turnOf({ effect_assumed: true }))[1]).toContain('is assumed');
});

const inside = Object.fromEntries(Object.keys(sampleReading.predicted_after).map((field) => [field, 0])) as never;
const turning = (some: Partial<MeasuredReading> = {}) =>
  readingWith({ advice: 'turn', turns: [turnOf(), turnOf({ adjustment: 'lower-screw', order: 2 })], ...some });

describe('turns', () => {
  it('that lead inside', () => {
    expect(formatHeadline(turning({ predicted_after: inside }), roundWith()).sentence).toBe(
      'Two adjustments, then you are within tolerance. First: Upper screw, 1/8 turn clockwise.',
    );
  });

  it('that do not', () => {
    const predicted_after = { ...sampleReading.predicted_after, vertical_offset_pct: 5 };
    expect(formatHeadline(turning({ predicted_after }), roundWith()).sentence).toBe(
      'Two adjustments, then photograph again. First: Upper screw, 1/8 turn clockwise.',
    );
  });

  it('of which one is done, and all', () => {
    const made = (...ids: string[]) =>
      roundWith({ turns_made: ids.map((adjustment) => ({ adjustment, direction: 'clockwise', turns: 0.125 })) });
    const reading = turning({ predicted_after: inside });
    expect(formatHeadline(reading, made('upper-screw')).sentence).toBe(
      'One more adjustment, then you are within tolerance. Upper screw, 1/8 turn clockwise.',
    );
    expect(formatHeadline(reading, made('upper-screw', 'lower-screw')).sentence).toBe('Turned. Now photograph again.');
  });
});

it.each([
  ['leave-alone', 'Nothing to turn.'],
  ['beyond-adjustment', 'Not adjustable.'],
  ['motion-only', 'Attachment not described: which screw is unknown.'],
  ['eyes-first', 'Eyes first: touch no screw yet.'],
] as const)('%s', (advice, sentence) => {
  const reading = readingWith({ advice, turns: [], trial_turns: [] });
  expect(formatHeadline(reading, roundWith())).toEqual({ sentence, addition: reading.sentence });
});

it('says checks first where no screw cures what is outside', () => {
  const check = { code: 'screen-depolarizes', check_code: 'look-where-the-ghost-is', check: '', evidence: [] };
  const reading = readingWith({ advice: 'leave-alone', turns: [], causes: [check] });
  expect(formatHeadline(reading, roundWith()).sentence).toBe('Checks first: not adjustable.');
  const check_answers = [{ check: 'look-where-the-ghost-is', answer: 'alike-everywhere' }];
  expect(formatHeadline(reading, roundWith({ check_answers })).sentence).toBe('Nothing to turn.');
});

it('the same turn of the whole goes the other way for who stands behind it', () => {
  expect(directionSeenFrom('audience', 'clockwise')).toBe('clockwise');
  expect(directionSeenFrom('projector', 'clockwise')).toBe('counter-clockwise');
  expect(directionSeenFrom('projector', 'counter-clockwise')).toBe('clockwise');
});
