import { expect, it } from 'vitest';
import { plainText } from '../../../src/report/text/lay-out.ts';

it('takes what a terminal would obey out of a text, and nothing else', () => {
  expect(plainText('a\u001b[2Jb\u0007\r\u202ec\u0085')).toBe('a\ufffd[2Jb\ufffd\ufffd\ufffdc\ufffd');
  expect(plainText('Naïve “Café”, – 日本 🎞\n\tnext line')).toBe('Naïve “Café”, – 日本 🎞\n\tnext line');
});
