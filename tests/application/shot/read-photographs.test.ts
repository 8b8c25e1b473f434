import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPhotographs } from '../../../src/application/shot/read-photographs.ts';
import { readPhoto } from '../../../src/photo/read-photo.ts';
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

const readBoth = (left: string, right: string, rightName = right) =>
  readPhotographs([
    { role: 'left-lens', path: left },
    { role: 'right-lens', path: right, name: rightName },
  ]);

describe('readPhotographs', () => {
  it('reads photographs of one size, each in its role, and gives each while the next one is decoded', async () => {
    const left = await write('left.png', await encodePng(picture(48, 32, 1)));
    const right = await write('right.png', await encodePng(picture(48, 32, 2)));
    const bare = await write('bare.png', await encodePng(picture(48, 32, 3)));
    const given: string[] = [];
    const result = await readPhotographs(
      [
        { role: 'left-lens', path: left, name: 'shot 1' },
        { role: 'right-lens', path: right },
        { role: 'bare', path: bare },
      ],
      ({ role }, index) => given.push(`${index} ${role}`),
    );
    if (result.outcome === 'refused') throw new Error(result.refusal.code);
    expect(result.photographs.map(({ role, photo }) => [role, photo.file])).toEqual([
      ['left-lens', 'shot 1'],
      ['right-lens', right],
      ['bare', bare],
    ]);
    expect(given).toEqual(['0 left-lens', '1 right-lens', '2 bare']);
  });

  it('takes a reading that has begun already', async () => {
    const left = await write('left.png', await encodePng(picture(48, 32, 1)));
    const result = await readPhotographs([{ role: 'bare', path: 'not looked at', reading: readPhoto(left) }]);
    expect(result).toMatchObject({ outcome: 'read', photographs: [{ role: 'bare' }] });
  });

  it('refuses a photograph that cannot be read, and names it', async () => {
    const good = await write('good.png', await encodePng(picture(48, 32, 1)));
    const broken = await write('broken.jpg', (await encodeJpeg(picture(48, 32, 1), 90)).slice(0, 60));
    const missing = join(folder, 'none.jpg');
    expect(await readBoth(broken, good)).toMatchObject({ refusal: { code: 'unreadable-photo' }, role: 'left-lens' });
    expect(await readBoth(good, missing)).toMatchObject({ refusal: { code: 'unreadable-photo' }, role: 'right-lens' });
    expect(await readBoth(good, missing, 'shot 2')).toMatchObject({
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
      expect(await readBoth(a, b)).toMatchObject({ refusal: { code: 'same-photo-twice' }, role: null });
    }
  });

  it('refuses two sizes, and gives both', async () => {
    const small = await write('small.png', await encodePng(picture(48, 32, 1)));
    const large = await write('large.png', await encodePng(picture(50, 32, 1)));
    expect(await readBoth(small, large)).toMatchObject({
      outcome: 'refused',
      refusal: { code: 'different-size', facts: { left_width_px: 48, right_width_px: 50, right_height_px: 32 } },
      role: null,
    });
  });
});

describe('a photograph after the pair', () => {
  it('is refused in its own role where it is one of the pair, of another size, or missing', async () => {
    const a = await write('a.png', await encodePng(picture(48, 32, 1)));
    const b = await write('b.png', await encodePng(picture(48, 32, 2)));
    const large = await write('large.png', await encodePng(picture(50, 32, 1)));
    for (const role of ['closing', 'bare'] as const) {
      for (const [path, code] of [
        [a, 'same-photo-twice'],
        [large, 'different-size'],
        [join(folder, 'none.png'), 'unreadable-photo'],
      ] as const) {
        const read = await readPhotographs([
          { role: 'left-lens', path: a },
          { role: 'right-lens', path: b },
          { role, path },
        ]);
        expect(read).toMatchObject({ refusal: { code }, role });
      }
    }
  });
});
