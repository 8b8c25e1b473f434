/** Work for the tests of turns: the reading made by hand, with turns of its own and rounds as wanted. */
import type { Round } from '../../../../../src/contract/workspace.ts';
import type { MeasuredReading, ReadingTurn } from '../../../../../src/record/reading.ts';
import { sampleReading } from '../../../../report/sample-reading.ts';

export function turnOf(some: Partial<ReadingTurn> = {}): ReadingTurn {
  return {
    adjustment: 'upper-screw',
    label: 'upper screw, on top',
    moves: 'right',
    direction: 'clockwise',
    turns: 1 / 8,
    u: 0.004,
    degrees: null,
    order: 1,
    approach: null,
    position_assumed: false,
    effect_assumed: false,
    polarizers_turn_deg: null,
    ...some,
  };
}

export function readingWith(some: Partial<MeasuredReading> = {}): MeasuredReading {
  return { ...sampleReading, ...some };
}

const { worst_vertical_pct, ...terms } = sampleReading.misalignment;

export function roundWith(some: Partial<Round> = {}): Round {
  const number = some.number ?? 1;
  return {
    number,
    at: '2026-03-14T09:26:53+01:00',
    outcome: 'measured',
    sentence: sampleReading.sentence,
    terms,
    worst_vertical_pct: { value: worst_vertical_pct.value, u: worst_vertical_pct.u },
    predicted_worst_vertical_pct: 0.05,
    verdict: 'outside',
    shots: { 'left-lens': `l${number}`, 'right-lens': `r${number}` },
    turns_made: null,
    ...some,
  };
}
