import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { linearFromSrgb, srgbFromLinear } from '../../../src/imaging/srgb.ts';
import { UnmetRequest } from '../../../src/kernel/unmet-request.ts';
import { UsageError } from '../../../src/shells/command/exit-status.ts';
import { writeTarget } from '../../../src/shells/command/write-target.ts';

let folder: string;
let files: string[];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'target-'));
  ({ files } = await writeTarget({ out: join(folder, 'new'), aspect: 2.35, height: 872, twoUp_in: [0.375, 0.387] }));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const read = (name: string) => readFile(join(folder, 'new', name));
const pixels = async (name: string) =>
  sharp(await read(name))
    .greyscale()
    .raw()
    .toBuffer({ resolveWithObject: true });

describe('writing the target', () => {
  it('writes the files it names and leaves nothing half done', async () => {
    const names = files.map((file) => basename(file)).sort();
    expect(names).toEqual([
      'target-left.pdf',
      'target-left.png',
      'target-left.svg',
      'target-right.pdf',
      'target-right.png',
      'target-right.svg',
      'target.json',
      'two-up-0.375.pdf',
      'two-up-0.375.png',
      'two-up-0.375.svg',
      'two-up-0.387.pdf',
      'two-up-0.387.png',
      'two-up-0.387.svg',
    ]);
    expect((await readdir(join(folder, 'new'))).sort()).toEqual(names);
  });

  it('makes pictures of exactly the asked height, 8 bits deep', async () => {
    for (const eye of ['left', 'right']) {
      const meta = await sharp(await read(`target-${eye}.png`)).metadata();
      expect([meta.width, meta.height, meta.depth]).toEqual([Math.round(872 * 2.35), 872, 'uchar']);
    }
  });

  it('has the grey steps at their linear levels to the code', async () => {
    const target = JSON.parse((await read('target.json')).toString());
    const [[scale, , x0], [, down, y0]] = target.pictures.pixel_from_chart;
    for (const strip of target.grey_steps) {
      const { data, info } = await pixels(`target-${strip.eye}.png`);
      for (const cell of strip.cells) {
        const half = { x: (cell.width * scale) / 2 - 2, y: (cell.height * scale) / 2 - 2 };
        const [x, y] = [scale * cell.x + x0, down * cell.y + y0];
        const codes = new Set<number>();
        for (let v = Math.ceil(y - half.y); v <= y + half.y; v++) {
          for (let u = Math.ceil(x - half.x); u <= x + half.x; u++) codes.add(data[v * info.width + u]!);
        }
        expect([...codes]).toEqual([Math.round(255 * srgbFromLinear(cell.level))]);
        // One code step is at most 0.9 % of full light.
        expect(Math.abs(linearFromSrgb([...codes][0]! / 255) - cell.level)).toBeLessThan(0.0045);
      }
    }
  });

  it('has a saddle at every mark: bright along its axis, dark across', async () => {
    const target = JSON.parse((await read('target.json')).toString());
    const [[scale, , x0], [, down, y0]] = target.pictures.pixel_from_chart;
    for (const eye of ['left', 'right'] as const) {
      const { data, info } = await pixels(`target-${eye}.png`);
      const marks = target.marks.filter((mark: { eye: string }) => mark.eye === eye);
      expect(marks.length).toBe(target.counts[eye]);
      for (const mark of marks) {
        const at = (turn_deg: number) => {
          const angle = ((target.mark_form.bright_axis_deg[eye] + turn_deg) * Math.PI) / 180;
          const r = 0.4 * mark.radius;
          const x = Math.round(scale * (mark.x + r * Math.cos(angle)) + x0);
          const y = Math.round(down * (mark.y + r * Math.sin(angle)) + y0);
          return data[y * info.width + x];
        };
        expect([at(0), at(180), at(90), at(270)]).toEqual([255, 255, 0, 0]);
      }
    }
  });

  it('makes the film frame at true size', async () => {
    const target = JSON.parse((await read('target.json')).toString());
    const film = target.film_frames[0];
    const meta = await sharp(await read(film.files.png)).metadata();
    expect([meta.width, meta.height]).toEqual([Math.round(34.975 * film.png_px_per_mm), 19 * film.png_px_per_mm]);
    const { data, info } = await pixels(film.files.png);
    // Septum and frame line are black right across the film.
    for (const y_mm of [9.5, 0.1, 18.9]) {
      const row = Math.round(y_mm * film.png_px_per_mm);
      expect(Math.max(...data.subarray(row * info.width, (row + 1) * info.width))).toBe(0);
    }
  });

  it('refuses what cannot be drawn, before it writes anything', async () => {
    const out = join(folder, 'refused');
    const wrongs = [
      [{ height: 100 }, UsageError],
      [{ height: 9000 }, UsageError],
      [{ height: 871.5 }, UsageError],
      [{ aspect: 3 }, UsageError],
      [{ twoUp_in: 0.2 }, UnmetRequest],
    ] as const;
    for (const [wrong, reason] of wrongs) {
      await expect(writeTarget({ out, aspect: 2.35, height: 872, ...wrong })).rejects.toThrow(reason);
    }
    await expect(readdir(out)).rejects.toThrow(/ENOENT/);
  });
});
