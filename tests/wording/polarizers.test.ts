/** Null searches and ports in words. */
import type { UnwordedNullSearch } from '../../src/record/null-search.ts';
import { portsVerdict, type UnwordedPortShots } from '../../src/record/port-shots.ts';
import {
  composeNullSentence,
  composePortSentence,
  NULL_NOTE_CODES,
  PORT_NOTE_CODES,
  translateNullNote,
  translateNullSearch,
  translatePortNote,
  translatePortShots,
} from '../../src/wording/polarizers.ts';
import {
  NULL_REFUSAL_CODES,
  PORT_REFUSAL_CODES,
  translateNullRefusal,
  translatePortRefusal,
} from '../../src/wording/refusals.ts';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

describe('a null search', () => {
  type Found = Extract<UnwordedNullSearch, { outcome: 'found' }>;

  const FOUND: Found = {
    schema: 'twinplumb.null-search/1',
    software: { name: 'twinplumb', version: '1' },
    lens: 'left',
    turned: 'glasses',
    outcome: 'found',
    shots: [-5, 0, 5].map((turn_deg) => ({ file: `${turn_deg}.jpg`, turn_deg, leak_pct: { value: 1.2, u: 0.02 } })),
    reference: 'r.jpg',
    verdict: 'turn',
    by: 'turns',
    null_deg: { value: 9.04, u: 0.11 },
    further_deg: { value: 4.04, u: 0.12 },
    further_steps: null,
    step_deg: null,
    is_between: true,
    least_leak_pct: { value: 0.31, u: 0.02 },
    curve: { unit: 'deg', null_at: 9.04, points: [] },
    fit: { chi_squared: 1, redundancy: 2, chance: 0.6 },
    notes: [],
  };

  describe('the sentence', () => {
    it.each([
      [
        {},
        'Turn the glasses 4.0° further, to 9.0° on your scale (± 0.2°): the ghost through the left lens falls from 1.20 % to 0.31 %.',
      ],
      [
        { further_deg: { value: -4.04, u: 0.12 }, null_deg: { value: 0.96, u: 0.1 } },
        'Turn the glasses 4.0° back, to 1.0° on your scale (± 0.2°): the ghost through the left lens falls from 1.20 % to 0.31 %.',
      ],
      [
        { least_leak_pct: { value: -0.02, u: 0.03 } },
        'Turn the glasses 4.0° further, to 9.0° on your scale (± 0.2°): the ghost through the left lens falls from 1.20 % to 0.00 %.',
      ],
      [
        { verdict: 'at-null', turned: 'polarizer' },
        'The polarizer of the right-eye picture is at the null to within 0.2°: leave it.',
      ],
      [
        { verdict: 'uncertain' },
        'The null is known only to within 0.2°: photograph again with turns of fifteen degrees to either side.',
      ],
      [
        { verdict: 'go-on', lens: 'right', turned: 'polarizer' },
        'Turn the polarizer of the left-eye picture 4.0° further, to 9.0° on your scale (± 0.2°), beyond the turns that were tried, and photograph a new series around that place.',
      ],
      [
        { by: 'steps', null_deg: null, further_deg: null, further_steps: { value: -1.52, u: 0.04 } },
        'Turn the glasses 1.52 steps back (± 0.08): the ghost through the left lens falls from 1.20 % to 0.31 %.',
      ],
      [
        { by: 'steps', null_deg: null, further_steps: { value: 1, u: 0.06 } },
        'Turn the glasses 1.00 step further (± 0.12, about 4.0°): the ghost through the left lens falls from 1.20 % to 0.31 %.',
      ],
    ] as const)('%o', (change, sentence) => {
      expect(composeNullSentence({ ...FOUND, ...change })).toBe(sentence);
    });

    it('counts back as further where the series was turned downwards', () => {
      const shots = FOUND.shots.toReversed();
      const further_deg = { value: -4.04, u: 0.12 };
      expect(composeNullSentence({ ...FOUND, shots, further_deg })).toContain('4.0° further');
    });
  });

  describe('codes and words match one to one', () => {
    const source = (path: string) => readFileSync(new URL(`../../src/${path}`, import.meta.url), 'utf8');
    const codesIn = (text: string, pattern: RegExp) => new Set([...text.matchAll(pattern)].map((match) => match[1]!));

    it('refusals', () => {
      const files = ['application/polarizers/find-null.ts', 'light/null-search.ts', 'light/null-by-steps.ts'];
      const raised = codesIn(files.map(source).join(''), /refuse\('([a-z-]+)'/g);
      const ofPairs = new Set(['different-size']);
      expect(NULL_REFUSAL_CODES.toSorted()).toEqual([...raised].filter((code) => !ofPairs.has(code)).toSorted());
    });

    it('notes', () => {
      const told = /export type NullNote = ([^;]+);/.exec(source('application/polarizers/find-null.ts'))![1]!;
      const raised = [...codesIn(told, /'([a-z-]+)'/g), 'shots-disagree'];
      expect(source('application/polarizers/describe-null.ts')).toContain("'shots-disagree'");
      expect(NULL_NOTE_CODES.toSorted()).toEqual(raised.toSorted());
      for (const code of raised) expect(translateNullNote(code)).toMatch(/^[A-Z].*\.$/);
      expect(() => translateNullNote('tired')).toThrow('no message');
    });

    const ONE_SENTENCE = /^[A-Z`][^.!?]*(?:[.](?=\S)[^.!?]*)*\.$/;
    it.each([...NULL_REFUSAL_CODES, 'camera-moved', 'different-size', 'same-eye-twice', 'no-target'])('%s', (code) => {
      const facts = {
        counted: 2,
        shots: 3,
        needed: 3,
        angles: 1,
        lens: 'right',
        step_deg: 6.02,
        other_step_deg: 28.7,
        moved_px: 4.2,
      };
      for (const given of [{}, facts]) {
        const { message, remedy } = translateNullRefusal(code, given);
        expect(message).toMatch(ONE_SENTENCE);
        expect(remedy).toMatch(ONE_SENTENCE);
        expect(`${message}${remedy}`).not.toMatch(/undefined|NaN|null/);
      }
    });

    it('says the numbers', () => {
      expect(translateNullRefusal('turns-incomplete', { counted: 2, shots: 3 }).message).toBe(
        'Only 2 of the 3 photographs have a turn.',
      );
      expect(translateNullRefusal('steps-alias', { step_deg: 6.02, other_step_deg: 28.7 }).message).toBe(
        'The photographs fit more than one size of the steps: 6° and 29°.',
      );
    });
  });

  it('a polarizer that is turned brings the cautions of the projector and of heat', () => {
    const glasses = translateNullSearch(FOUND);
    const polarizer = translateNullSearch({ ...FOUND, turned: 'polarizer' });
    if (glasses.outcome !== 'found' || polarizer.outcome !== 'found') throw new Error('refused');
    expect(glasses.cautions).toHaveLength(3);
    expect(polarizer.cautions.join()).toMatch(/hot: close the dowser[\s\S]*igniter/);
  });
});

describe('port shots', () => {
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
        'The ports are swapped: the upper one is dark to the left eye and the lower one to the right eye, the other way round than the house has it.',
      ],
      [
        { verdict: 'both-one-eye', ports: [port('upper', 'left'), port('lower', 'left')] },
        'Both ports are dark to the left eye: one polarizer is a quarter turn off.',
      ],
      [
        { verdict: 'one-neither', ports: [port('upper', 'left'), port('lower', 'neither')] },
        'The lower port is dark to neither eye: its polarizer is missing, burnt through or rotated by 45°, or something in front of it spoils the polarization.',
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
      expect(() => translatePortNote('tired')).toThrow('no message');
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
});
