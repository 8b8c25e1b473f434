import { describe, expect, it } from 'vitest';
import { cleanName } from '../../src/workspace/import-photograph.ts';

describe('the name of a file', () => {
  it.each(['left.jpg', 'DSC_0001 (2).JPG', 'öffnung “links”.tif', '右.png', '👓.jpg', 'a<b>&"c.jpg', '.hidden'])(
    'stays as it is: %s',
    (name) => expect(cleanName(name)).toBe(name),
  );

  it.each([
    ['a folder before it', '../../etc/passwd', 'passwd'],
    ['a folder of another system', 'C:\\Photos\\a.jpg', 'a.jpg'],
    ['lines', 'a\r\nSet-Cookie: x.jpg', 'aSet-Cookie: x.jpg'],
    ['a writing direction that hides its ending', 'a\u202egpj.exe', 'agpj.exe'],
    ['half a character', 'a\ud800.jpg', 'a.jpg'],
    ['nothing in it', ' \n', 'photograph'],
    ['only a folder', 'a/', 'photograph'],
  ])('loses %s', (_what, given, name) => expect(cleanName(given)).toBe(name));

  it('is cut to a length that fits, between characters', () => {
    expect([...cleanName('👓'.repeat(300))]).toHaveLength(200);
  });
});
