import { describe, expect, it } from 'vitest';
import { formatJsonLine, makeSafe } from '../../src/wording/make-safe.ts';

describe('text of others', () => {
  it('for a terminal holds nothing that it would obey, and is otherwise the same', () => {
    expect(makeSafe('a\u001b[2Jb\u0007\r\u202ec\u0085', 'terminal')).toBe('a\ufffd[2Jb\ufffd\ufffd\ufffdc\ufffd');
    expect(makeSafe('Naïve “Café”, – 日本 🎞\n\tnext line\r\n', 'terminal')).toBe(
      'Naïve “Café”, – 日本 🎞\n\tnext line\r\n',
    );
    expect(makeSafe('\u001b[31mred\u001b[39m', 'terminal')).not.toContain('\u001b');
  });

  it('that was painted keeps the colours of our layout and nothing else', () => {
    expect(makeSafe('\u001b[31mred\u001b[39m \u001b]0;title\u0007\u001b[8m', 'painted')).toBe(
      '\u001b[31mred\u001b[39m \ufffd]0;title\ufffd\ufffd[8m',
    );
  });

  it('as a name is one line', () => {
    expect(makeSafe('a\nError: all is well\t\u2028.jpg', 'line')).toBe('a\ufffdError: all is well\ufffd\ufffd.jpg');
  });

  it('on a page cannot turn the direction of writing', () => {
    expect(makeSafe('<p>photo\u202egpj.exe</p>\n', 'page')).toBe('<p>photo\ufffdgpj.exe</p>\n');
  });

  it.each([
    ['=1+1', "'=1+1"],
    ['+1', "'+1"],
    ['-2', "'-2"],
    ['@SUM(A1)', "'@SUM(A1)"],
    ['\t=1', '"\'\t=1"'],
    ['  =1', "'  =1"],
    ['\n=1', '"\'\n=1"'],
    ['\uff1d1', "'\uff1d1"],
    ['\u22122', "'\u22122"],
    ['=a,"b"', '"\'=a,""b"""'],
    ['1 = 1', '1 = 1'],
    ['a\u001b[2J', 'a\ufffd[2J'],
    ['', ''],
  ])('in a table, %j, is no formula', (text, cell) => {
    expect(makeSafe(text, 'cell')).toBe(cell);
  });

  it('as JSON is the same value in signs that no terminal obeys', () => {
    const value = { note: 'a\u009b2Jb\u202e\u001b[2J\nc' };
    const line = formatJsonLine(value);
    expect(JSON.parse(line)).toEqual(value);
    expect(line).toMatch(/^[ -~]*\n$/);
  });
});
