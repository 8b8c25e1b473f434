import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { MOST_PHOTOGRAPH_BYTES } from '../../../../../src/contract/addresses.ts';
import { checkFile, FILE_PROBLEMS } from '../../../../../src/shells/interface/screens/shots/check-file.ts';
import { formatFileProblem } from '../../../../../src/shells/interface/screens/shots/word-file-problem.ts';

const PHOTOGRAPH = join(import.meta.dirname, '../../../../../test-images/meridian-01-aligned/left-lens.jpg');

const fileOf = (name: string, bytes: Uint8Array, size = bytes.length) => ({
  name,
  size,
  slice: (start: number, end: number) => ({
    arrayBuffer: async () => bytes.slice(start, end).buffer as ArrayBuffer,
  }),
});
const jpeg = Uint8Array.of(0xff, 0xd8, 0xff, 0xe0, 0);

describe('a file before it is sent', () => {
  it('may be a JPEG, a PNG, or a TIFF of either kind, whatever its name', async () => {
    const png = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d);
    const little = Uint8Array.of(0x49, 0x49, 0x2a, 0, 8);
    const big = Uint8Array.of(0x4d, 0x4d, 0, 0x2a, 8);
    for (const bytes of [jpeg, png, little, big]) expect(await checkFile(fileOf('photo', bytes))).toBeNull();
    expect(await checkFile(fileOf('left-lens.jpg', readFileSync(PHOTOGRAPH)))).toBeNull();
  });

  it('is refused where it is none of these, even when it is called one', async () => {
    const text = new TextEncoder().encode('%PDF-1.7');
    expect(await checkFile(fileOf('left.jpg', text))).toBe('not-a-photograph');
    expect(await checkFile(fileOf('left.jpg', new Uint8Array()))).toBe('empty');
    expect(await checkFile(fileOf('IMG_1.HEIC', jpeg))).toBe('telephone-format');
    expect(await checkFile(fileOf('DSC_1.NEF', jpeg))).toBe('raw');
  });

  it('is refused at 500 MB without being read', async () => {
    expect(await checkFile(fileOf('huge.tif', jpeg, 500 * 2 ** 20))).toBe('too-large');
    expect(await checkFile(fileOf('large.tif', jpeg, MOST_PHOTOGRAPH_BYTES))).toBeNull();
  });

  it('is refused when it vanished meanwhile', async () => {
    const slice = () => ({ arrayBuffer: () => Promise.reject(new DOMException('gone', 'NotReadableError')) });
    expect(await checkFile({ name: 'left.jpg', size: 5, slice })).toBe('unreadable');
  });

  it('has a sentence with its name and a remedy for every problem', () => {
    for (const code of FILE_PROBLEMS) {
      const { message, remedy, slot } = formatFileProblem(code, 'abc.xyz', 'left-lens');
      expect(message).toContain('abc.xyz');
      expect(remedy).toMatch(/\.$/);
      expect(slot).toBe('left-lens');
    }
    expect(formatFileProblem('too-large', 'a', null).message).toContain('256 MB');
  });
});
