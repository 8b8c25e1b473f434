import { IntlMessageFormat } from 'intl-messageformat';
import { describe, expect, it } from 'vitest';
import words from '../../src/wording/en.json' with { type: 'json' };
import { isMessageKey, translate } from '../../src/wording/translate.ts';

const entries = Object.entries(words);

describe('the wording of the interface', () => {
  it('is ICU throughout, with flat keys that begin with their screen', () => {
    expect(entries.length).toBeGreaterThan(300);
    for (const [key, text] of entries) {
      expect(() => new IntlMessageFormat(text, 'en'), key).not.toThrow();
      expect(key).toMatch(/^[a-z]+\.[A-Za-z0-9_-]+$/);
      expect(text.trim(), key).not.toBe('');
    }
  });

  it('ends no sentence twice and leaves no space at an end', () => {
    expect(entries.filter(([, text]) => /\.\.(?!\.)|^\s|\s$| {2}/.test(text)).map(([key]) => key)).toEqual([]);
  });

  it('counts', () => {
    expect(translate('shots.frames', { count: 1 })).toBe('mean of 1 frame');
    expect(translate('shots.frames', { count: 16 })).toBe('mean of 16 frames');
  });

  it('knows which keys have words', () => {
    expect(isMessageKey('frame.shots')).toBe(true);
    expect(isMessageKey('frame.toString')).toBe(false);
    expect(isMessageKey('toString')).toBe(false);
  });
});
