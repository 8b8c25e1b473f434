import { describe, expect, it } from 'vitest';
import { isPassing, troubleOf, TROUBLES } from '../../../../src/shells/interface/camera/troubles.ts';
import words from '../../../../src/wording/en.json' with { type: 'json' };

describe('the trouble of an error', () => {
  it.each([
    ['NotAllowedError', 'denied'],
    ['NotFoundError', 'none'],
    ['OverconstrainedError', 'none'],
    ['NotReadableError', 'busy'],
    ['AbortError', 'busy'],
    ['TypeError', 'unsupported'],
    ['SomethingNewError', 'unknown'],
  ] as const)('%s is %s', (name, trouble) => {
    expect(troubleOf(new DOMException('', name))).toBe(trouble);
  });

  it('is unknown for what is no error', () => {
    expect(troubleOf(undefined)).toBe('unknown');
    expect(troubleOf('no')).toBe('unknown');
  });
});

describe('every trouble', () => {
  it.each(TROUBLES)('%s has a sentence and a remedy', (trouble) => {
    expect(words).toHaveProperty([`camera.trouble-${trouble}`]);
    expect(words).toHaveProperty([`camera.trouble-${trouble}-remedy`]);
  });

  it('passes by itself where the camera stays on', () => {
    expect(TROUBLES.filter(isPassing)).toEqual(['muted', 'silent']);
  });
});
