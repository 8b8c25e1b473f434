import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { MAX_PHOTOGRAPH_BYTES } from '../../../../../src/contract/addresses.ts';
import {
  assignFiles,
  checkFile,
  compareNames,
  FILE_PROBLEMS,
  formatFileProblem,
  readDrop,
  shotOfName,
} from '../../../../../src/shells/interface/screens/shots/intake-files.ts';

const item = (kind: string, name: string, isDirectory: boolean) => ({
  kind,
  webkitGetAsEntry: () => ({ isDirectory, name }),
  getAsFile: () => (isDirectory ? null : new File(['x'], name)),
});

describe('a drop', () => {
  it('is divided into files and folders; text is left alone', () => {
    const items = [item('file', 'left.jpg', false), item('string', 'text', false), item('file', 'Round 3', true)];
    const dropped = readDrop({ items } as never);
    expect(dropped.files.map(({ name }) => name)).toEqual(['left.jpg']);
    expect(dropped.folders).toEqual(['Round 3']);
  });

  it('is read where a browser knows no folders', () => {
    const plain = { kind: 'file', getAsFile: () => new File(['x'], 'a.jpg') };
    expect(readDrop({ items: [plain] } as never).files).toHaveLength(1);
  });
});

describe('what a name says', () => {
  it.each([
    ['left-lens.jpg', 'left-lens'],
    ['Meridian_L_03.JPG', 'left-lens'],
    ['throughRightLens.png', 'right-lens'],
    ['R.tif', 'right-lens'],
    ['closing shot.jpg', 'closing'],
    ['bare.jpeg', 'bare'],
  ])('%s is %s', (name, slot) => expect(shotOfName(name)).toBe(slot));

  it.each(['DSC_0417.JPG', 'leftover.jpg', 'left-right.jpg', 'bright.jpg', 'IMG.left'])('%s says nothing', (name) =>
    expect(shotOfName(name)).toBeUndefined(),
  );

  it('counts numbers as numbers', () => {
    expect(['DSC10.jpg', 'DSC9.jpg', 'dsc1.jpg'].toSorted(compareNames)).toEqual(['dsc1.jpg', 'DSC9.jpg', 'DSC10.jpg']);
  });
});

describe('one file', () => {
  it('goes where it was dropped, whatever its name', () => {
    expect(assignFiles(['left.jpg'], 'right-lens', 'bare')).toEqual({ how: 'asked', files: { 'right-lens': [0] } });
  });

  it('goes by its name, else to the next free place', () => {
    expect(assignFiles(['right.jpg'], null, 'bare')).toEqual({ how: 'by-name', files: { 'right-lens': [0] } });
    expect(assignFiles(['1.jpg'], null, 'bare')).toEqual({ how: 'next-free', files: { bare: [0] } });
    expect(assignFiles(['1.jpg'], null, 'right-lens')).toEqual({ how: 'next-free', files: { 'right-lens': [0] } });
  });

  it('is a question where every place is taken', () => {
    expect(assignFiles(['1.jpg'], null, null).how).toBe('question');
  });
});

describe('two files', () => {
  it('go by their names, in any order', () => {
    const files = { 'left-lens': [1], 'right-lens': [0] };
    expect(assignFiles(['r.jpg', 'l.jpg'], null, 'bare')).toEqual({ how: 'by-name', files });
    expect(assignFiles(['r.jpg', 'DSC1.jpg'], null, 'bare')).toEqual({ how: 'by-name', files });
    expect(assignFiles(['DSC1.jpg', 'left.jpg'], 'right-lens', 'bare')).toEqual({ how: 'by-name', files });
  });

  it('go in the order of their names where these say nothing or the same', () => {
    const files = { 'left-lens': [1], 'right-lens': [0] };
    expect(assignFiles(['DSC10.jpg', 'DSC9.jpg'], null, 'bare')).toEqual({ how: 'in-order', files });
    expect(assignFiles(['left2.jpg', 'left1.jpg'], null, 'bare')).toEqual({ how: 'in-order', files });
  });

  it('may be one without glasses and one through a lens', () => {
    const files = { bare: [0], 'left-lens': [1] };
    expect(assignFiles(['bare.jpg', 'left.jpg'], null, 'bare')).toEqual({ how: 'by-name', files });
    expect(assignFiles(['no-glasses.jpg', 'L.jpg'], null, 'bare')).toEqual({ how: 'by-name', files });
  });

  it('are a question where one is none of the pair', () => {
    expect(assignFiles(['bare.jpg', 'DSC1.jpg'], null, 'bare')).toEqual({ how: 'question', files: { bare: [0] } });
    expect(assignFiles(['1.jpg', '2.jpg'], 'closing', 'bare').how).toBe('question');
  });
});

describe('more files', () => {
  it('go by their names where each speaks of another shot', () => {
    expect(assignFiles(['left.jpg', 'right.jpg', 'without-glasses.jpg'], null, 'bare')).toEqual({
      how: 'by-name',
      files: { 'left-lens': [0], 'right-lens': [1], bare: [2] },
    });
  });

  it('are repeats where their names say so, or where they are given to one place', () => {
    expect(assignFiles(['L-1.jpg', 'R-1.jpg', 'R-2.jpg', 'L-2.jpg'], null, 'bare')).toEqual({
      how: 'by-name',
      files: { 'left-lens': [0, 3], 'right-lens': [1, 2] },
    });
    expect(assignFiles(['1.jpg', '2.jpg', '3.jpg'], 'bare', 'bare')).toEqual({
      how: 'asked',
      files: { bare: [0, 1, 2] },
    });
    expect(assignFiles(['closing.jpg', 'closing-2.jpg', 'L.jpg'], null, 'bare').how).toBe('question');
  });

  it('are a question, with what their names suggest', () => {
    const names = Array.from({ length: 20 }, (_, i) => `DSC${i}.jpg`);
    expect(assignFiles(names, null, 'bare')).toEqual({ how: 'question', files: {} });
    expect(assignFiles(['a.jpg', 'right.jpg', 'left.jpg'], null, 'bare')).toEqual({
      how: 'question',
      files: { 'left-lens': [2], 'right-lens': [1] },
    });
  });
});

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
    expect(await checkFile(fileOf('large.tif', jpeg, MAX_PHOTOGRAPH_BYTES))).toBeNull();
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
