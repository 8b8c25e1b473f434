/** Failures of the program, and what the logbook has to say. */
import type { BundleProblemCode } from '../../src/logbook/bundle/inspect-zip.ts';
import type { LogbookRefusalCode, NoticeCode } from '../../src/logbook/logbook.ts';
import type { ProblemCode } from '../../src/logbook/verify-logbook.ts';
import { FAILURE_CODES, type LogbookWordCode, translateFailure, translateLogbook } from '../../src/wording/failures.ts';
import { describe, expect, it } from 'vitest';

describe('failures', () => {
  describe.each(FAILURE_CODES)('the failure %s', (code) => {
    const facts = {
      file: 'a/b',
      pid: 7,
      system_code: 'ENOSPC',
      count: 2,
      round: 3,
      name: 'x.jpg',
      limit_mib: 256,
      limit_mb: 64,
      limit: 4,
    };

    it.each([
      ['with all its facts', facts],
      ['without any', {}],
    ])('is worded %s', (_how, given) => {
      const { code: again, message, remedy } = translateFailure(code, { count: 1, ...given });
      expect(again).toBe(code);
      for (const sentence of [message, remedy]) {
        expect(sentence).toMatch(/^[A-Z0-9].+\.$/);
        expect(sentence).not.toMatch(/undefined|NaN|null| {2}| \./);
      }
    });
  });

  it('names what it knows', () => {
    expect(translateFailure('in-use', { pid: 4711, machine: 'booth' }).message).toMatch(/process 4711 on booth\)\.$/);
    expect(translateFailure('in-use', { pid: 4711, file: 'x/lock' })).toEqual({
      code: 'in-use',
      message: 'Another Twinplumb is using this folder (process 4711).',
      remedy: 'Use the window that is open already, or close it first; if there is none, remove x/lock.',
    });
  });
});

describe('the logbook', () => {
  type Raised = LogbookRefusalCode | NoticeCode | ProblemCode | BundleProblemCode;
  /** Both ways: a code without words, or words without a code, is a type error. */
  const isComplete: [Raised] extends [LogbookWordCode] ? ([LogbookWordCode] extends [Raised] ? true : false) : false =
    true;

  const facts = {
    folder: 'logbook',
    file: 'left.jpg',
    id: 'ab12cd34',
    schema: 'twinplumb.entry/3',
    system_code: 'ENOSPC',
    count: 2,
    pid: 77,
    format: 'HEIC',
    now: '2026-01-01',
    newest: '2026-02-01',
    reason: 'altered',
    place: 'set-aside/x.json',
    named_by: 'ef56',
    where: 'house.name',
    field: 'size_pct',
    name: 'right.jpg',
  };

  describe('the words of the logbook', () => {
    it('are there for every code', () => expect(isComplete).toBe(true));

    it.each<LogbookWordCode>([
      'entry-not-kept',
      'clock-back',
      'record-missing',
      'zip-bomb',
      'reading-apart',
      'logbook-busy',
      'set-aside',
    ])('are whole sentences, with facts and without (%s)', (code) => {
      for (const { message, remedy } of [translateLogbook(code, facts), translateLogbook(code)]) {
        for (const sentence of [message, remedy]) {
          expect(sentence).toMatch(/^\S.*\.$/);
          expect(sentence).not.toMatch(/undefined|NaN|null|\s\.|\s\s/);
        }
      }
    });

    it('say what the system said', () => {
      expect(translateLogbook('entry-not-kept', facts).message).toBe('The entry could not be kept (ENOSPC).');
      expect(translateLogbook('no-such-entry', facts).message).toBe('There is no entry ab12cd34 in the logbook.');
    });
  });
});
