import { describe, expect, it } from 'vitest';
import { FAILURE_CODES, translateFailure } from '../../src/wording/failures.ts';

describe.each(FAILURE_CODES)('the failure %s', (code) => {
  const facts = { file: 'a/b', pid: 7, system_code: 'ENOSPC', count: 2, round: 3, name: 'x.jpg', limit_mib: 256 };

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
  expect(translateFailure('in-use', { pid: 4711, file: 'x/lock' })).toEqual({
    code: 'in-use',
    message: 'Another Twinplumb is at work in this folder (process 4711).',
    remedy: 'Use the window that is open already, or close it first; if there is none, remove x/lock.',
  });
});
