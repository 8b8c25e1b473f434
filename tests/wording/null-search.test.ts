import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { UnwordedNullSearch } from '../../src/record/null-search.ts';
import { NULL_REFUSAL_CODES, translateNullRefusal } from '../../src/wording/null-refusals.ts';
import {
  composeNullSentence,
  NULL_NOTE_CODES,
  translateNullNote,
  translateNullSearch,
} from '../../src/wording/null-search.ts';

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
      'The polarizer of the right-eye picture stands at the null to within 0.2°: leave it.',
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
    expect(() => translateNullNote('tired')).toThrow('no wording');
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
