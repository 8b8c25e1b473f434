import { expect, it } from 'vitest';
import type { MeasuredReading } from '../../../src/record/reading.ts';
import { statusOf } from '../../../src/shells/command/fail-on.ts';
import { wantsColors } from '../../../src/shells/command/wants-colors.ts';
import { translateReading } from '../../../src/wording/reading.ts';
import { sampleReading, sampleRefusal } from '../../report/sample-reading.ts';

const outside = translateReading(sampleReading) as MeasuredReading;
const judged = (verdict: 'within' | 'undecided', assignment: MeasuredReading['eyes']['assignment'] = 'correct') =>
  ({
    ...outside,
    findings: outside.findings.map((finding) => ({ ...finding, verdict })),
    eyes: { ...outside.eyes, assignment },
  }) as MeasuredReading;

it.each([
  [outside, ['outside'], 3],
  [outside, ['undecided', 'eyes'], 0],
  [outside, [], 0],
  [judged('undecided'), ['outside'], 0],
  [judged('undecided'), ['outside', 'undecided'], 3],
  [judged('within'), ['outside', 'undecided', 'eyes'], 0],
  [judged('within', 'not-looked-at'), ['eyes'], 3],
  [judged('within', 'swapped'), ['eyes'], 3],
  [judged('within', 'swapped'), ['outside'], 3],
  [judged('within', 'undetermined'), ['eyes'], 3],
  [translateReading(sampleRefusal), ['outside'], 2],
] as const)('case %#', (reading, conditions, status) => {
  expect(statusOf(reading, conditions)).toBe(status);
});

it.each([
  [{}, true, true],
  [{}, false, false],
  [{ NO_COLOR: '1' }, true, false],
  [{ NO_COLOR: '1', FORCE_COLOR: '1' }, true, false],
  [{ NO_COLOR: '' }, true, true],
  [{ FORCE_COLOR: '1' }, false, true],
  [{ FORCE_COLOR: '0' }, true, false],
  [{ TERM: 'dumb' }, true, false],
])('colours with %j on a terminal: %s', (env, isTerminal, wanted) => {
  expect(wantsColors(env, isTerminal)).toBe(wanted);
});
