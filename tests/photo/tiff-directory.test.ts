import { describe, expect, it } from 'vitest';
import { TIFF_TAG, TiffStructure } from '../../src/photo/tiff-directory.ts';
import { buildTiff, greyDirectory } from './hand-built-files.ts';

/** One byte for each value, all within the file, so that only the count itself can be too large. */
function withManyBytes(count: number, directories = 1): Buffer {
  const values = new Array<number>(count).fill(1);
  const entries = [...greyDirectory(4, 4), { tag: TIFF_TAG.dngVersion, type: 1, values }];
  return buildTiff(new Array(directories).fill(entries));
}

const numbersOf = (bytes: Buffer) =>
  TiffStructure.open(bytes)!
    .mainDirectories()
    .directories.map((directory) => directory.numbers(TIFF_TAG.dngVersion).length);

describe('counts in a TIFF', () => {
  it('are believed where a photograph may have as many', () => {
    expect(numbersOf(withManyBytes(4))).toEqual([4]);
    expect(numbersOf(withManyBytes(400_000))).toEqual([400_000]);
  });

  it('are not, where no tag has as many, though the file holds them', () => {
    expect(numbersOf(withManyBytes(500_001))).toEqual([0]);
  });

  it('are not, where directories together ask for more than the largest photograph needs', () => {
    expect(numbersOf(withManyBytes(400_000, 7))).toEqual([400_000, 400_000, 400_000, 400_000, 400_000, 0, 0]);
  });

  it('of entries are bounded as well', () => {
    const entries = Array.from({ length: 1025 }, (_, i) => ({ tag: 50_000 + i, type: 3, values: [1] }));
    expect(TiffStructure.open(buildTiff([entries]))!.mainDirectories()).toEqual({ directories: [], whole: false });
    expect(TiffStructure.open(buildTiff([entries.slice(1)]))!.mainDirectories().whole).toBe(true);
  });
});
