import { describe, expect, it } from 'vitest';
import type { ReadingShot } from '../../src/record/reading.ts';
import type { PhotographRole } from '../../src/record/roles.ts';
import { listShownShots } from '../../src/record/shown-shots.ts';

const shot = (role: PhotographRole, file: string, isShown = false): ReadingShot => ({
  role,
  file,
  sha256: 'a'.repeat(64),
  width_px: 4000,
  height_px: 3000,
  ...(isShown && { marks_shown: true }),
});
const filesOf = (...given: Parameters<typeof listShownShots>) => listShownShots(...given).map((one) => one?.file);

describe('the photographs that a reading shows', () => {
  it('are those whose marks it lists, the left one first', () => {
    const three = [shot('bare', '1'), shot('bare', '2', true), shot('bare', '3'), shot('left-lens', 'l')];
    expect(filesOf({ geometry_from: 'one-exposure', shots: three })).toEqual(['2']);
    const pair = [shot('right-lens', 'r', true), shot('left-lens', 'l', true), shot('closing', 'c')];
    expect(filesOf({ geometry_from: 'two-exposures', shots: pair })).toEqual(['l', 'r']);
  });

  it('are one through a lens where its ghost shows both pictures', () => {
    const shots = [shot('left-lens', 'l'), shot('right-lens', 'r', true)];
    expect(filesOf({ geometry_from: 'one-exposure', shots })).toEqual(['r']);
  });

  it('are the first of each kind in readings that do not say', () => {
    const shots = [shot('left-lens', 'l'), shot('right-lens', 'r'), shot('bare', '1'), shot('bare', '2')];
    expect(filesOf({ geometry_from: 'one-exposure', shots })).toEqual(['1']);
    expect(filesOf({ shots })).toEqual(['l', 'r']);
    expect(filesOf({ shots: shots.slice(1) })).toEqual([undefined, 'r']);
  });
});
