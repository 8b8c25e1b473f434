import { expect, it } from 'vitest';
import { stripControls } from '../../../src/report/text/text-layout.ts';

it('takes what a terminal would obey out of a text, and nothing else', () => {
  expect(stripControls('a\u001b[2Jb\u0007\r\u202ec\u0085')).toBe('a\ufffd[2Jb\ufffd\ufffd\ufffdc\ufffd');
  expect(stripControls('Naïve “Café”, – 日本 🎞\n\tnext line')).toBe('Naïve “Café”, – 日本 🎞\n\tnext line');
});
