/** The catalogue: ICU throughout, spelled as it should be, and complete for every code. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { IntlMessageFormat } from 'intl-messageformat';
import { afterEach, describe, expect, it } from 'vitest';
import { openTopic, transformMessages } from '../../src/wording/catalogue.ts';
import { isMessageKey, translate } from '../../src/wording/translate.ts';

const ROOT = join(import.meta.dirname, '../../src/wording/en');
const files = readdirSync(ROOT, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.json'));
const entries = files.flatMap((file) =>
  Object.entries(JSON.parse(readFileSync(join(ROOT, file), 'utf8')) as Record<string, string>).map(
    ([key, message]) => [`${file} ${key}`, message] as const,
  ),
);

describe('every message', () => {
  it('is ICU', () => {
    expect(entries.length).toBeGreaterThan(1800);
    for (const [key, message] of entries) {
      expect(() => new IntlMessageFormat(message, 'en', undefined, { ignoreTag: true }), key).not.toThrow();
    }
  });

  it('ends no sentence twice, has no space at an end and no straight apostrophe, which ICU takes for its own', () => {
    // Parts of sentences may begin with a space or a comma inside a place, never as a whole.
    const odd = entries.filter(([, message]) => /\.\.(?!\.)|^\s|\s$| {2}|'|^$/.test(message));
    expect(odd.map(([key]) => key)).toEqual([]);
  });
});

it('screens have flat keys that begin with their place', () => {
  const screens = entries.filter(([key]) => key.startsWith('screens/'));
  expect(screens.length).toBeGreaterThan(1000);
  for (const [key] of screens) expect(key).toMatch(/^screens\/([a-z]+)\.json \1\.[A-Za-z0-9_-]+$/);
});

describe('a topic', () => {
  const {
    has,
    translate: put,
    translateCode,
    translateBoth,
  } = openTopic({
    plain: 'As it is.',
    marks: '{count, plural, one {# mark} other {# marks}}',
    soft: 'Too soft{blur_px, select, none {} other {: {blur_px} px}}.',
    'soft.remedy': 'Focus.',
  });
  afterEach(() => transformMessages(null));

  it('counts', () => {
    expect(put('marks', { count: 1 })).toBe('1 mark');
    expect(put('marks', { count: 16 })).toBe('16 marks');
    expect(translate('shots.frames', { count: 1 })).toBe('mean of 1 frame');
    expect(translate('shots.frames', { count: 16 })).toBe('mean of 16 frames');
  });

  it('does without what is missing, and rounds what is no whole number', () => {
    expect(put('soft')).toBe('Too soft.');
    expect(put('soft', { blur_px: null })).toBe('Too soft.');
    expect(put('soft', { blur_px: 9.337 })).toBe('Too soft: 9.3 px.');
    expect(put('soft', { blur_px: 1234 })).toBe('Too soft: 1234 px.');
    expect(put('soft', { blur_px: 0 })).toBe('Too soft: 0 px.');
  });

  it('has a sentence and a remedy', () => {
    expect(translateBoth('soft', { blur_px: 2 })).toEqual({ message: 'Too soft: 2 px.', remedy: 'Focus.' });
  });

  it('knows its keys, and invents nothing for others', () => {
    expect(has('plain')).toBe(true);
    expect(has('toString')).toBe(false);
    expect(isMessageKey('frame.shots')).toBe(true);
    expect(isMessageKey('toString')).toBe(false);
    expect(() => translateCode('tired')).toThrow(RangeError);
  });

  it('speaks another language as soon as it is switched on, and its own again afterwards', () => {
    expect(put('marks', { count: 2 })).toBe('2 marks');
    transformMessages((message) => `[${message}]`);
    expect(put('marks', { count: 2 })).toBe('[2 marks]');
    expect(put('plain')).toBe('[As it is.]');
    transformMessages(null);
    expect(put('marks', { count: 2 })).toBe('2 marks');
  });
});
