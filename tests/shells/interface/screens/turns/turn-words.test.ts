import { describe, expect, it } from 'vitest';
import {
  listInstructions,
  listRemarks,
  nameTurn,
  formatAmount,
  formatDirection,
  formatPast,
} from '../../../../../src/shells/interface/screens/turns/turn-words.ts';
import { turnOf } from './turns-work.ts';

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
      'As a clock’s hand goes from 12 to 1:30.',
      'Arrive turning clockwise, so that the play is taken up.',
    ]);
  });

  it('counter-clockwise, with play: past the end and back', () => {
    const turn = turnOf({ direction: 'counter-clockwise', approach: played });
    expect(listInstructions(turn, 'projector', 'metric')).toEqual([
      'As a clock’s hand goes back from 12 to 10:30.',
      'Because of the play: go past, 3/16 turn in all, then 1/16 turn back clockwise.',
    ]);
    expect(formatPast(turn, 'booth.past')).toBe('first 3/16 turn, then back 1/16 turn');
    expect(formatPast(turnOf({ approach: played }))).toBeNull();
  });

  it('more than one turn', () => {
    expect(listInstructions(turnOf({ turns: 2.25 }), 'audience', 'metric')).toEqual([
      '2 times round, then as a clock’s hand goes from 12 to 3:00.',
    ]);
    expect(listInstructions(turnOf({ turns: 2 + 1 / 32 }), 'audience', 'metric')).toEqual([
      '2 whole turns first, then the rest.',
    ]);
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
    'Its place in its travel is not known: stop at the first resistance.',
  ]);
  expect(listRemarks(whole)).toContain(
    'Polarizers fixed to the attachment turn with it, by 0.40°: look at the ghost afterwards.',
  );
  expect(listRemarks(turnOf({ effect_assumed: true }))[1]).toContain('was assumed');
});
