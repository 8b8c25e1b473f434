import { expect, it } from 'vitest';
import { judgeWorkingLevel } from '../../src/record/working-verdict.ts';
import { sampleFinding } from '../report/sample-reading.ts';

const finding = (verdict: 'within' | 'outside' | 'undecided', level: 'working' | 'maximum' = 'working') =>
  sampleFinding({ code: 'size', value: 1, u: 1, limit: 1, verdict, level });

it.each([
  [[], 'within'],
  [[finding('within'), finding('undecided')], 'undecided'],
  [[finding('outside'), finding('undecided'), finding('within')], 'outside'],
  [[finding('within'), finding('outside', 'maximum')], 'within'],
])('one broken working limit breaks the whole (%#)', (findings, verdict) => {
  expect(judgeWorkingLevel({ findings })).toBe(verdict);
});
