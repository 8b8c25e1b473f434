/** Everything that a logbook or a bundle can answer has its words; the compiler sees to it that no code is forgotten here. */
import { describe, expect, it } from 'vitest';
import type { BundleProblemCode } from '../../src/logbook/bundle/inspect-zip.ts';
import type { LogbookRefusalCode, NoticeCode } from '../../src/logbook/logbook.ts';
import type { ProblemCode } from '../../src/logbook/verify-logbook.ts';
import { type LogbookWordCode, translateLogbook } from '../../src/wording/logbook.ts';

type Raised = LogbookRefusalCode | NoticeCode | ProblemCode | BundleProblemCode;
/** Both ways: a code without words, or words without a code, is a type error. */
const isComplete: [Raised] extends [LogbookWordCode] ? ([LogbookWordCode] extends [Raised] ? true : false) : false =
  true;

const facts = {
  folder: 'logbook',
  file: 'left.jpg',
  id: 'ab12cd34',
  schema: 'twinplumb.entry/2',
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
