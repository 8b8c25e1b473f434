/** Every code that a room can raise has words. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { LEARNING_REFUSALS } from '../../src/application/turns/learn-from-rounds.ts';
import { CAUSE_CODES, CHECK_CODES } from '../../src/diagnosis/cause-row.ts';
import { CHECK_ROWS } from '../../src/diagnosis/choose-check.ts';
import { FINDING_CODES } from '../../src/limits/tolerances.ts';
import type { UnsupportedFormat } from '../../src/photo/recognise-format.ts';
import type { HouseProblem } from '../../src/record/house.ts';
import * as causes from '../../src/wording/causes.ts';
import * as findings from '../../src/wording/findings.ts';
import * as turns from '../../src/wording/turns.ts';
import {
  HOUSE_PROBLEMS,
  LEARNING_REFUSAL_CODES,
  listHouseProblems,
  REFUSAL_CODES,
  translateInvalidHouse,
  translateRefusal,
  UNREADABLE_REASONS,
  UNSUPPORTED_FORMATS_AND_CONTENTS,
} from '../../src/wording/refusals.ts';
import { translateWarning, WARNING_CODES } from '../../src/wording/reading.ts';
import { REASON_CODES } from '../../src/turns/advice.ts';
import { sampleFinding } from '../report/sample-reading.ts';

const sorted = (codes: Iterable<string>) => [...codes].toSorted();

describe('codes and words match one to one', () => {
  it.each([
    ['findings', FINDING_CODES, findings.FINDING_CODES],
    ['causes', CAUSE_CODES, causes.CAUSE_CODES],
    ['checks', CHECK_CODES, causes.CHECK_CODES],
    ['reasons', REASON_CODES, turns.INCURABLE_REASONS],
    ['learning from rounds', LEARNING_REFUSALS, LEARNING_REFUSAL_CODES],
  ])('%s', (_room, raised, worded) => {
    expect(sorted(worded)).toEqual(sorted(raised));
  });

  it('formats that cannot be read', () => {
    // The compiler keeps this list complete.
    const formats: Record<UnsupportedFormat, true> = {
      DNG: true,
      'camera raw': true,
      BigTIFF: true,
      HEIC: true,
      AVIF: true,
      WebP: true,
      'JPEG XL': true,
      'JPEG 2000': true,
      GIF: true,
      BMP: true,
      OpenEXR: true,
      SVG: true,
      PDF: true,
      ZIP: true,
      video: true,
      text: true,
      unknown: true,
    };
    expect(UNSUPPORTED_FORMATS_AND_CONTENTS).toEqual(expect.arrayContaining(Object.keys(formats)));
  });

  it('problems of a house file', () => {
    const problems: Record<HouseProblem, true> = {
      missing: true,
      'unknown-field': true,
      'wrong-type': true,
      'too-small': true,
      'too-large': true,
      'not-allowed': true,
      'zero-effect': true,
      'position-outside-range': true,
      'smallest-turn-exceeds-range': true,
      'id-used-twice': true,
      'reference-seat-before-nearest-row': true,
    };
    expect(sorted(HOUSE_PROBLEMS)).toEqual(sorted(Object.keys(problems)));
  });

  it.each(CHECK_ROWS)('answers and hazards of the check $code', ({ code, answers, hazards }) => {
    expect(causes.listAnswers(code).map(({ answer }) => answer)).toEqual(answers);
    expect(causes.hazardsOfCheck(code)).toEqual(hazards);
    expect(causes.translateCheck(code)).toMatch(/^[A-Z].*\.$/);
  });

  it('names of evidence', () => {
    const source = readFileSync(new URL('../../src/diagnosis/cause-evidence.ts', import.meta.url), 'utf8');
    const raised = new Set([...source.matchAll(/'([a-z0-9_]+_(?:pct|deg|mm|arcmin))'/g)].map((match) => match[1]!));
    expect(raised.size).toBeGreaterThan(8);
    expect(sorted(causes.EVIDENCE_NAMES)).toEqual(sorted(raised));
  });

  it('reasons of unreadable photographs and unsupported contents, as listed by the reader of photographs', () => {
    const source = readFileSync(new URL('../../src/photo/read-photo.ts', import.meta.url), 'utf8');
    const listed = (code: string) =>
      new RegExp(`\\* +${code} +(.*)`)
        .exec(source)![1]!
        .split(', ')
        .map((reason) => reason.trim());
    expect(sorted(UNREADABLE_REASONS)).toEqual(sorted(listed('unreadable-photo')));
    const contents = listed('unsupported-format').filter((reason) => reason !== 'format');
    expect(UNSUPPORTED_FORMATS_AND_CONTENTS).toEqual(expect.arrayContaining(contents));
    // No words for what nobody raises: seventeen formats, and what may be wrong inside of one that is read.
    expect(UNSUPPORTED_FORMATS_AND_CONTENTS).toHaveLength(17 + contents.length);
  });
});

const PROMISED = [
  'unreadable-photo',
  'unsupported-format',
  'photo-too-large',
  'no-target',
  'too-few-marks',
  'blurred',
  'overexposed',
  'underexposed',
  'same-photo-twice',
  'same-eye-twice',
  'camera-moved',
  'different-size',
  'mirrored',
  'upside-down',
  'too-oblique',
  'inconsistent-marks',
];

/** One sentence: begins with a capital, ends with one full stop that is the only end of a sentence. */
const ONE_SENTENCE = /^[A-Z`][^.!?]*(?:[.](?=\S)[^.!?]*)*\.$/;

describe('refusals', () => {
  it('has words for every code that the command line promises', () => {
    expect(REFUSAL_CODES).toEqual(expect.arrayContaining(PROMISED));
  });

  it.each([...new Set([...REFUSAL_CODES, ...LEARNING_REFUSAL_CODES])])(
    '%s: one sentence each, with and without facts',
    (code) => {
      for (const shot of ['left-lens', 'right-lens', null] as const) {
        const facts = { reason: 'missing', format: 'HEIC', blur_px: 9.3, limit_px: 6, moved_px: 14.2, file: 'a.jpg' };
        for (const given of [{}, facts]) {
          const { message, remedy } = translateRefusal(code, given, shot);
          expect(message).toMatch(ONE_SENTENCE);
          expect(remedy).toMatch(ONE_SENTENCE);
          expect(message).not.toContain('undefined');
        }
      }
    },
  );

  it('says the numbers', () => {
    expect(translateRefusal('blurred', { blur_px: 9.34, limit_px: 6 }, 'left-lens').message).toBe(
      'The photograph through the left lens is not sharp enough to measure: edge blur 9.3 px, limit 6 px.',
    );
    expect(translateRefusal('camera-moved', { moved_px: 14.2 }, null).message).toContain('by 14 px');
  });

  it('tells a telephone’s owner how to export', () => {
    const { message, remedy } = translateRefusal(
      'unsupported-format',
      { reason: 'format', format: 'HEIC' },
      'right-lens',
    );
    expect(message).toContain('HEIC');
    expect(remedy).toContain('JPEG');
  });

  it('puts the contents before the format', () => {
    expect(translateRefusal('unsupported-format', { reason: 'animation', format: 'PNG' }, null).message).toContain(
      'animation',
    );
    expect(translateRefusal('unreadable-photo', { reason: 'truncated', format: 'JPEG' }, null).message).toContain(
      'cut short',
    );
  });

  it('does not invent words for an unknown code', () => {
    expect(() => translateRefusal('tired', {}, null)).toThrow('no message');
    expect(() => translateWarning('tired', {})).toThrow('no message');
    expect(() => findings.describeFinding('tired')).toThrow('no message');
    expect(() => turns.translateIncurable('tired')).toThrow('no message');
    expect(() => causes.translateCheck('tired')).toThrow('no message');
  });
});

it.each(CAUSE_CODES)('the cause %s and its remedy are sentences, without any figure too', (code) => {
  expect(causes.translateCause({ code, evidence: [] })).toMatch(/^[A-Z].*\.$/);
  expect(causes.translateCause({ code, evidence: [] })).not.toContain('undefined');
  expect(causes.translateRemedy(code)).toMatch(/^[A-Z].*\.$/);
});

it.each([
  [0.994, 'likely (over 99 %)'],
  [0.508, 'likely (51 %)'],
  [0.31, 'possible (31 %)'],
  [0.004, 'unlikely (under 1 %)'],
  [undefined, null],
])('a probability of %s: %s', (probability, words) => {
  expect(causes.formatProbability(probability === undefined ? {} : { probability })).toBe(words);
});

it('turns a ratio above 100 % round', () => {
  expect(causes.formatEvidence({ name: 'crosstalk_left_pct', value: 24914, u: 575 })).toBe(
    'left-eye over right-eye picture through the left lens: 0.401 ± 0.019 %',
  );
  expect(causes.formatEvidence({ name: 'crosstalk_left_pct', value: 2.4, u: 0.02 })).toContain(
    'right-eye over left-eye picture through the left lens: 2.4',
  );
});

it('lists the checks in one order, the one that tells most first, each once, without those that were made', () => {
  const cause = (check_code: string) => ({ code: 'x', check_code, check: '', evidence: [] });
  const diagnosis = {
    causes: [cause('level-the-glasses'), cause('turn-projector-polarizer'), cause('level-the-glasses')],
    next_check: { code: 'turn-projector-polarizer', check: '', gain_bits: 1 } as never,
  };
  expect(causes.listChecks(diagnosis)).toEqual(['turn-projector-polarizer', 'level-the-glasses']);
  expect(causes.listChecks(diagnosis, [{ check: 'turn-projector-polarizer' }])).toEqual(['level-the-glasses']);
});

it('has words for every warning that a reading can carry', () => {
  const source = readFileSync(new URL('../../src/application/pair/list-warnings.ts', import.meta.url), 'utf8');
  const raised = [...source.matchAll(/warnings\.push\(\{ code: '([a-z-]+)'/g)].map((match) => match[1]!);
  expect(raised.length).toBeGreaterThan(3);
  expect(WARNING_CODES).toEqual(expect.arrayContaining(raised));
});

it.each([
  [{ basis: 'published', confirmed: true }, 'A book, p. 1'],
  [{ basis: 'common-practice', confirmed: true }, 'A book, p. 1 (common practice)'],
  [{ basis: 'from-memory', confirmed: false }, 'A book, p. 1 (from memory, unconfirmed)'],
] as const)('the source of a limit carries its flag: %o', (finding, words) => {
  const known = sampleFinding({ code: 'size', value: 1, u: 1, limit: 1, source: 'A book, p. 1', ...finding });
  expect(findings.sourceOfLimit(known)).toBe(words);
  expect(findings.sourceOfLimit({ ...known, source: words })).toBe(words);
});

it.each(WARNING_CODES)('the warning %s has no holes', (code) => {
  expect(translateWarning(code, {})).toMatch(/^[A-Z].*\.$/);
  expect(translateWarning(code, { missing: 3, clipped: 2, coverage_pct: 61 })).not.toContain('undefined');
});

it('lists every problem of a house file', () => {
  const facts = {
    reason: 'problems',
    count: 2,
    path_1: 'throw_m',
    problem_1: 'too-small',
    expected_1: 1,
    path_2: 'name',
    problem_2: 'missing',
  };
  expect(translateInvalidHouse(facts).message).toBe(
    'In the house file, throw_m is too small, at least 1 is needed (and 1 more).',
  );
  expect(listHouseProblems(facts)).toEqual(['throw_m is too small, at least 1 is needed', 'name is missing']);
});
