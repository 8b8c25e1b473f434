import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPhoto } from '../../../src/photo/read-photo.ts';
import { rehearse } from '../../../src/shells/command/rehearse.ts';

const photo = { width_px: 800, height_px: 600 };
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rehearse-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

describe('rehearse', () => {
  it('writes both photographs and the truth; the same order gives the same bytes', async () => {
    const order = { seed: 7, wish: { photo, vertical_pct: 0.5 } };
    const first = await rehearse({ ...order, out: join(folder, 'a') });
    const again = await rehearse({ ...order, out: join(folder, 'b') });
    expect(first.files.map((f) => f.slice(join(folder, 'a').length + 1))).toEqual([
      'left-lens.jpg',
      'right-lens.jpg',
      'truth.json',
    ]);
    first.files.forEach((file, i) => {
      expect(readFileSync(file).equals(readFileSync(again.files[i]))).toBe(true);
    });
    const other = await rehearse({ ...order, seed: 8, out: join(folder, 'c') });
    expect(readFileSync(first.files[0]).equals(readFileSync(other.files[0]))).toBe(false);
    const truth = JSON.parse(readFileSync(first.files[2], 'utf8'));
    expect(truth.requested.vertical_offset_pct).toBeCloseTo(0.5, 12);
    expect(truth.shots.map((s: { file: string }) => s.file)).toEqual(['left-lens.jpg', 'right-lens.jpg']);
  });

  it('PNG and JPEG show the same', async () => {
    const { files } = await rehearse({
      seed: 1,
      wish: { photo, jpegQuality: 95 },
      png: true,
      out: join(folder, 'png'),
    });
    const [jpeg, png] = await Promise.all(files.slice(0, 2).map((file) => readPhoto(file)));
    if (jpeg.outcome !== 'read' || png.outcome !== 'read') throw new Error('not read');
    const [a, b] = [jpeg.photo.pixels.data, png.photo.pixels.data];
    expect(a).toHaveLength(800 * 600 * 3);
    let sum = 0;
    for (let i = 1; i < a.length; i += 3) sum += Math.abs(a[i] - b[i]);
    expect(sum / (a.length / 3)).toBeLessThan(1.5);
    let brightest = 0;
    for (const v of b) brightest = Math.max(brightest, v);
    expect(brightest).toBeGreaterThan(150);
  });

  it('writes the photographs beside the pair, each as PNG as well, and what they have to show', async () => {
    const out = join(folder, 'further');
    const { files, truth } = await rehearse({ seed: 7, wish: { photo }, png: true, also: ['flat', 'ports'], out });
    const names = ['left-lens', 'right-lens', 'flat', 'ports-left', 'ports-right'];
    expect(files).toEqual([
      ...names.flatMap((name) => [join(out, `${name}.jpg`), join(out, `${name}.png`)]),
      join(out, 'truth.json'),
    ]);
    expect(JSON.parse(readFileSync(join(out, 'truth.json'), 'utf8'))).toEqual(JSON.parse(JSON.stringify(truth)));
    expect(truth.further!.ports!.ports.map(({ place, eye }) => [place, eye])).toEqual([
      ['upper', 'right'],
      ['lower', 'left'],
    ]);
  });

  it('writes nothing for a wish that no scene can have', async () => {
    const out = join(folder, 'never');
    await expect(rehearse({ seed: 1, out, wish: { photo, leak_pct: { left: 0.0001 } } })).rejects.toThrow(RangeError);
    const without = { photo, polarizers: 'missing' } as const;
    await expect(rehearse({ seed: 1, out, wish: without, also: ['null-series'] })).rejects.toThrow('null series');
    expect(() => readFileSync(join(out, 'truth.json'))).toThrow();
  });
});
