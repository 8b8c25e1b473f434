import { describe, expect, it } from 'vitest';
import { EMPTY_POLARIZERS, type Polarizers } from '../../../../../src/contract/polarizers.ts';
import type { Job } from '../../../../../src/contract/workspace.ts';
import {
  findNullStep,
  findPortsStep,
  readTurn,
} from '../../../../../src/shells/interface/screens/polarizers/next-step.ts';
import { searchMadeUp } from '../../../../interface/polarizers-situations.ts';

const photograph = { id: 1, name: 'a.jpg', sha256: '0'.repeat(64) };
const series = (turns: readonly (number | null)[]) => turns.map((turn_deg, id) => ({ ...photograph, id, turn_deg }));
const running = (kind: Job['kind']): Job => ({
  id: 1,
  kind,
  stage: 'waiting',
  fraction: 0,
  state: 'running',
  failure: null,
});
const steps = { ...EMPTY_POLARIZERS.setting, counted: 'steps' } as const;

describe('findNullStep', () => {
  it.each([
    ['nothing', {}, { step: 'reference' }],
    ['a reference', { reference: photograph }, { step: 'series' }],
    ['two photographs', { reference: photograph, series: series([0, 5]) }, { step: 'more', count: 2, needed: 3 }],
    ['a turn that is missing', { reference: photograph, series: series([0, null, 5]) }, { step: 'turns' }],
    ['all', { reference: photograph, series: series([0, -5, 5]) }, { step: 'ready' }],
    [
      'three photographs without turns, by steps',
      { reference: photograph, series: series([null, null, null]), setting: steps },
      { step: 'more', count: 3, needed: 4 },
    ],
    [
      'four of them',
      { reference: photograph, series: series([null, null, null, null]), setting: steps },
      { step: 'ready' },
    ],
  ] as const)('with %s', (_what, given, step) => {
    expect(findNullStep({ ...EMPTY_POLARIZERS, ...given } as Polarizers, [])).toEqual(step);
  });

  it('shows what was found or refused, and first of all that it is being looked for', () => {
    const found = { ...EMPTY_POLARIZERS, null_search: searchMadeUp('null-turns') };
    expect(findNullStep(found, []).step).toBe('found');
    expect(findNullStep({ ...found, null_search: searchMadeUp('null-refused') }, []).step).toBe('refused');
    expect(findNullStep(found, [running('null-search')]).step).toBe('finding');
    expect(findNullStep(found, [running('measure')]).step).toBe('found');
  });
});

describe('findPortsStep', () => {
  it.each([
    [null, null, 'both'],
    [photograph, null, 'right'],
    [null, photograph, 'left'],
    [photograph, photograph, 'ready'],
  ] as const)('left %j, right %j: %s', (left, right, step) => {
    expect(findPortsStep({ ...EMPTY_POLARIZERS, ports: { left, right } }, []).step).toBe(step);
    expect(findPortsStep(EMPTY_POLARIZERS, [running('port-shots')]).step).toBe('comparing');
  });
});

it.each([
  ['-7.5', -7.5],
  ['−7,5', -7.5],
  ['+12°', 12],
  [' 3 ° ', 3],
  ['.5', 0.5],
  ['', null],
  ['  ', null],
  ['five', 'wrong'],
  ['1e2', 'wrong'],
  ['361', 'wrong'],
  ['5 6', 'wrong'],
] as const)('%j is read as %s', (text, turn) => {
  expect(readTurn(text)).toBe(turn);
});
