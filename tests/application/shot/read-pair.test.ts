import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readClosing, readPair } from '../../../src/application/shot/read-pair.ts';
import { encodeJpeg, encodePng } from '../../../src/photo/write-photo.ts';
import type { Pixels } from '../../../src/imaging/pixels.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'pair-'));
});
afterAll(() => rm(folder, { recursive: true }));

function picture(width: number, height: number, shade: number): Pixels {
  const data = Uint8Array.from({ length: width * height * 3 }, (_, i) => (shade + 7 * i) % 200);
  return { width, height, channels: 3, data };
}

async function write(name: string, bytes: Uint8Array): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, bytes);
  return path;
}

/** As a file that keeps its own name. */
const named = (path: string, name = path) => ({ path, name });
const readBoth = (left: string, right: string) => readPair(named(left), named(right));

describe('readPair', () => {
  it('reads two photographs of one size, each in its role', async () => {
    const left = await write('left.png', await encodePng(picture(48, 32, 1)));
    const right = await write('right.png', await encodePng(picture(48, 32, 2)));
    const result = await readPair(named(left, 'shot 1'), named(right));
    if (result.outcome === 'refused') throw new Error(result.refusal.code);
    expect([result.left.file, result.right.file]).toEqual(['shot 1', right]);
    expect([result.left.width, result.right.height]).toEqual([48, 32]);
  });

  it('refuses a photograph that cannot be read, and names it', async () => {
    const good = await write('good.png', await encodePng(picture(48, 32, 1)));
    const broken = await write('broken.jpg', (await encodeJpeg(picture(48, 32, 1), 90)).slice(0, 60));
    const missing = join(folder, 'none.jpg');
    expect(await readBoth(broken, good)).toMatchObject({ refusal: { code: 'unreadable-photo' }, shot: 'left-lens' });
    expect(await readBoth(good, missing)).toMatchObject({ refusal: { code: 'unreadable-photo' }, shot: 'right-lens' });
    expect(await readPair(named(good), named(missing, 'shot 2'))).toMatchObject({
      refusal: { facts: { reason: 'missing', file: 'shot 2' } },
    });
  });

  it('refuses the same photograph twice: the same file, a copy, and the same pixels in another file', async () => {
    const first = await write('first.png', await encodePng(picture(48, 32, 5)));
    const copy = await write('copy.png', await encodePng(picture(48, 32, 5)));
    const grey = picture(48, 32, 5);
    const jpeg = await write('one.jpg', await encodeJpeg(grey, 90));
    const again = await write('two.jpg', new Uint8Array([...(await encodeJpeg(grey, 90)), 0]));
    for (const [a, b] of [
      [first, first],
      [first, copy],
      [jpeg, again],
    ]) {
      expect(await readBoth(a, b)).toMatchObject({ refusal: { code: 'same-photo-twice' }, shot: null });
    }
  });

  it('refuses two sizes, and gives both', async () => {
    const small = await write('small.png', await encodePng(picture(48, 32, 1)));
    const large = await write('large.png', await encodePng(picture(50, 32, 1)));
    expect(await readBoth(small, large)).toMatchObject({
      outcome: 'refused',
      refusal: { code: 'different-size', facts: { left_width_px: 48, right_width_px: 50, right_height_px: 32 } },
      shot: null,
    });
  });
});

describe('readClosing', () => {
  const firstOf = async (path: string) => {
    const read = await readBoth(path, await write('other.png', await encodePng(picture(48, 32, 77))));
    if (read.outcome === 'refused') throw new Error(read.refusal.code);
    return read.left;
  };

  it('reads another exposure of the same size', async () => {
    const first = await firstOf(await write('a.png', await encodePng(picture(48, 32, 1))));
    const closing = await write('c.png', await encodePng(picture(48, 32, 2)));
    expect(await readClosing(named(closing, 'last'), first)).toMatchObject({
      outcome: 'read',
      photo: { file: 'last' },
    });
  });

  it('refuses the first photograph once more, another size and a missing file, as the closing shot', async () => {
    const a = await write('a.png', await encodePng(picture(48, 32, 1)));
    const first = await firstOf(a);
    const large = await write('large.png', await encodePng(picture(50, 32, 1)));
    for (const [path, code] of [
      [a, 'same-photo-twice'],
      [large, 'different-size'],
      [join(folder, 'none.png'), 'unreadable-photo'],
    ] as const) {
      expect(await readClosing(named(path), first)).toMatchObject({ refusal: { code }, shot: 'closing' });
    }
  });
});
