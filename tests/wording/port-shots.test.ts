import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { portsVerdict, type UnwordedPortShots } from '../../src/record/port-shots.ts';
import { PORT_REFUSAL_CODES, translatePortRefusal } from '../../src/wording/port-refusals.ts';
import {
  composePortSentence,
  PORT_NOTE_CODES,
  translatePortNote,
  translatePortShots,
} from '../../src/wording/port-shots.ts';

type Compared = Extract<UnwordedPortShots, { outcome: 'compared' }>;

const port = (place: 'upper' | 'lower', dark_to: 'left' | 'right' | 'neither' | 'unclear') =>
  ({
    place,
    dark_to,
    kept_pct: { value: 3.14, u: 0.4 },
    darker_through: dark_to === 'right' ? 'right' : 'left',
    angle_deg: 10,
    x_px: 1,
    y_px: 2,
    radius_px: 3,
  }) as const;

const RIGHT: Compared = {
  schema: 'twinplumb.port-shots/1',
  software: { name: 'twinplumb', version: '1' },
  files: { left: 'l.jpg', right: 'r.jpg' },
  outcome: 'compared',
  verdict: 'as-expected',
  expected: { upper_port_shows: 'right', by: 'common-practice' },
  ports: [port('upper', 'left'), port('lower', 'right')],
  size: { width_px: 60, height_px: 50 },
  answer: null,
  notes: ['burnt-out'],
};

describe('the sentence', () => {
  it.each([
    [
      {},
      'The upper port is dark to the left eye and the lower one to the right eye, as is common practice: each serves its own eye.',
    ],
    [
      { verdict: 'exchanged', expected: { upper_port_shows: 'left', by: 'house' } },
      'The ports are exchanged: the upper one is dark to the left eye and the lower one to the right eye, the other way round than the house has it.',
    ],
    [
      { verdict: 'both-one-eye', ports: [port('upper', 'left'), port('lower', 'left')] },
      'Both ports are dark to the left eye: one polarizer stands a quarter turn off.',
    ],
    [
      { verdict: 'one-neither', ports: [port('upper', 'left'), port('lower', 'neither')] },
      'The lower port is dark to neither eye: its polarizer is missing, burnt through or turned by half a right angle, or what stands before it spoils the polarization.',
    ],
    [
      { verdict: 'unclear', ports: [port('upper', 'unclear'), port('lower', 'right')] },
      'The photographs do not tell: the upper port keeps 3.1 ± 0.8 % through the left lens, the lower port keeps 3.1 ± 0.8 % through the right lens, where a port that serves one eye keeps under 25 %.',
    ],
  ] as const)('%o', (change, sentence) => {
    expect(composePortSentence({ ...RIGHT, ...change })).toBe(sentence);
  });

  it.each(portsVerdict.options)('%s has one, whatever the ports', (verdict) => {
    const ports = [port('upper', 'left'), port('lower', 'neither')];
    expect(composePortSentence({ ...RIGHT, verdict, ports })).toMatch(/^[A-Z].*\.$/);
  });
});

it('always warns of the lit port, and of heat and high voltage where hands are sent to the polarizers', () => {
  const cautionsOf = (shots: UnwordedPortShots) => translatePortShots(shots).cautions.join();
  expect(cautionsOf(RIGHT)).toContain('never an eye');
  expect(cautionsOf(RIGHT)).not.toContain('igniter');
  expect(cautionsOf({ ...RIGHT, verdict: 'exchanged' })).toMatch(/close the dowser[\s\S]*igniter/);
  const { schema, software, files } = RIGHT;
  const refusal = { code: 'one-port-only', shot: null, facts: {} };
  expect(cautionsOf({ schema, software, files, outcome: 'refused', refusal })).toContain('never an eye');
});

describe('codes and words match one to one', () => {
  const source = (path: string) => readFileSync(new URL(`../../src/${path}`, import.meta.url), 'utf8');
  const OF_PHOTOGRAPHS = ['same-photo-twice', 'different-size', 'camera-moved', 'overexposed', 'underexposed'];

  it('refusals', () => {
    const text =
      source('application/polarizers/find-ports.ts') + source('application/polarizers/compare-port-shots.ts');
    const raised = new Set([...text.matchAll(/refuse\('([a-z-]+)'/g)].map((match) => match[1]!));
    expect([...PORT_REFUSAL_CODES, ...OF_PHOTOGRAPHS].toSorted()).toEqual([...raised].toSorted());
  });

  it('notes', () => {
    const told = /export type PortNote = ([^;]+);/.exec(source('application/polarizers/compare-port-shots.ts'))![1]!;
    const raised = [...told.matchAll(/'([a-z-]+)'/g)].map((match) => match[1]!);
    expect(PORT_NOTE_CODES.toSorted()).toEqual(raised.toSorted());
    for (const code of raised) expect(translatePortNote(code)).toMatch(/^[A-Z].*\.$/);
    expect(() => translatePortNote('tired')).toThrow('no wording');
  });

  const ONE_SENTENCE = /^[A-Z`][^.!?]*(?:[.](?=\S)[^.!?]*)*\.$/;
  it.each([...PORT_REFUSAL_CODES, ...OF_PHOTOGRAPHS])('%s', (code) => {
    for (const facts of [{}, { lights: 2, moved_px: 12.3, brightest_pct: 0.8 }, { lights: 4 }]) {
      const { message, remedy } = translatePortRefusal(code, facts, null);
      expect(message).toMatch(ONE_SENTENCE);
      expect(remedy).toMatch(ONE_SENTENCE);
      expect(`${message}${remedy}`).not.toMatch(/undefined|NaN|null/);
    }
  });
});
