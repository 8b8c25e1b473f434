import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readPhoto } from '../../src/photo/read-photo.ts';
import { renderShot } from '../../src/scene/render-shot.ts';
import { shotSeed } from '../../src/scene/scene.ts';
import { recordTruth } from '../../src/scene/truth-record.ts';
import { folderName, IMAGE_SETS, type ImageSet, planImages, TEST_IMAGES } from './test-image-sets.ts';

const pair = { left: 'left-lens.jpg', right: 'right-lens.jpg' };
const filesOf = ({ glassesOnly }: ImageSet) => [...Object.values(pair), ...(glassesOnly ? [] : ['bare.jpg'])];

/** Numbers alike to 1e-9, everything else the same: the mathematics of two machines may differ in the last digit. */
function expectAlike(actual: unknown, expected: unknown, path = ''): void {
  if (typeof expected === 'number') {
    expect(Math.abs((actual as number) - expected), path).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(expected)));
  } else if (typeof expected === 'object' && expected !== null) {
    expect(Object.keys(actual as object), path).toEqual(Object.keys(expected));
    for (const [key, value] of Object.entries(expected)) {
      expectAlike((actual as Record<string, unknown>)[key], value, `${path}.${key}`);
    }
  } else expect(actual, path).toBe(expected);
}

describe('test-images', () => {
  it('there are a dozen and one sets', () => expect(IMAGE_SETS).toHaveLength(13));

  it.each(IMAGE_SETS)('$name: the truth is what the scene says today', (set) => {
    const stored = JSON.parse(readFileSync(join(TEST_IMAGES, folderName(set), 'truth.json'), 'utf8'));
    const planned = planImages(set);
    expectAlike(stored, JSON.parse(JSON.stringify(recordTruth(planned.set, pair, undefined, planned.series))));
  });

  it.each(IMAGE_SETS)('$name: all photographs are there, about six megapixels', async (set) => {
    const { series } = planImages(set);
    expect(series.map(({ name }) => `${name}.jpg`)).toEqual(filesOf(set));
    for (const file of filesOf(set)) {
      const path = join(TEST_IMAGES, folderName(set), file);
      expect(existsSync(path)).toBe(true);
      const result = await readPhoto(path);
      expect(result.outcome).toBe('read');
      if (result.outcome === 'read') expect([result.photo.width, result.photo.height]).toEqual([3000, 2000]);
    }
  });

  it('the photographs are what the scene renders today, but for JPEG', async () => {
    const set = IMAGE_SETS.find((s) => s.name === 'mixed')!;
    const { set: house } = planImages(set);
    const rendered = renderShot(house.scene, house.shots.left, shotSeed(house, 'left')).pixels;
    const stored = await readPhoto(join(TEST_IMAGES, folderName(set), pair.left));
    if (stored.outcome !== 'read') throw new Error('the photograph cannot be read');
    const { pixels } = stored.photo;
    let [difference, bright] = [0, 0];
    for (let i = 1; i < rendered.data.length; i += 3) {
      if (rendered.data[i] < 100) continue;
      bright++;
      difference += Math.abs(rendered.data[i] - pixels.data[i]);
    }
    expect(bright).toBeGreaterThan(100_000);
    // A mark that moved by a pixel would leave tens of codes along every edge.
    expect(difference / bright).toBeLessThan(3);
  });
});
