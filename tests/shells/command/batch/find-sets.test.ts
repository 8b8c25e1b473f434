import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { findSets } from '../../../../src/shells/command/batch/find-sets.ts';
import { readManifest } from '../../../../src/shells/command/batch/read-manifest.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'sets-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));
const put = (path: string, text = '') => {
  mkdirSync(dirname(join(folder, path)), { recursive: true });
  writeFileSync(join(folder, path), text);
};

const named = (role: string, path: string) => ({ role, path: join(folder, path), name: join(folder, path) });

describe('sets below a folder', () => {
  it('are those that hold both photographs, at any depth, in the order of their names', async () => {
    for (const path of [
      'b/left-lens.jpg',
      'b/right-lens.JPG',
      'a/deep/Left-Lens.tif',
      'a/deep/right-lens.tif',
      'a/deep/closing.tif',
    ])
      put(path);
    for (const path of ['half/left-lens.jpg', 'other/left-lens.jpg.txt', 'other/right-lens.jpg', 'bare/bare.jpg'])
      put(path);
    expect(await findSets(folder)).toEqual([
      {
        name: 'a/deep',
        photographs: [
          named('left-lens', 'a/deep/Left-Lens.tif'),
          named('right-lens', 'a/deep/right-lens.tif'),
          named('closing', 'a/deep/closing.tif'),
        ],
      },
      { name: 'b', photographs: [named('left-lens', 'b/left-lens.jpg'), named('right-lens', 'b/right-lens.JPG')] },
      { name: 'bare', photographs: [named('bare', 'bare/bare.jpg')] },
    ]);
  });

  it('take the camera’s own form where there are several, and the folder itself may be one', async () => {
    for (const path of ['left-lens.png', 'left-lens.jpg', 'right-lens.png', 'right-lens.tif']) put(path);
    expect(await findSets(folder)).toEqual([
      { name: '.', photographs: [named('left-lens', 'left-lens.jpg'), named('right-lens', 'right-lens.tif')] },
    ]);
  });

  it('are not looked for behind links', async () => {
    put('real/left-lens.jpg');
    put('real/right-lens.jpg');
    symlinkSync(folder, join(folder, 'real', 'loop'));
    expect((await findSets(folder)).map(({ name }) => name)).toEqual(['real']);
  });
});

describe('a list of sets', () => {
  const expected = (names: string[]) =>
    names.map((name) => ({
      name,
      photographs: [named('left-lens', `${name} l.jpg`), named('right-lens', `${name} r.jpg`)],
    }));

  it('is read from JSON and from CSV, paths counted from its folder', async () => {
    put('list.json', JSON.stringify([{ set: 'x', left: 'x l.jpg', right: 'x r.jpg', extra: 1 }]));
    expect(await readManifest(join(folder, 'list.json'))).toEqual(expected(['x']));
    put(
      'list.csv',
      '\uFEFFset,left,right,house\r\n"a, ""b""","a, ""b"" l.jpg","a, ""b"" r.jpg",\r\nx,x l.jpg,x r.jpg,h.json\r\n',
    );
    const [first, second] = expected(['a, "b"', 'x']);
    expect(await readManifest(join(folder, 'list.csv'))).toEqual([first, { ...second, house: join(folder, 'h.json') }]);
  });

  it.each([
    ['[{"set":"x","left":"l"}]', /belong together/],
    ['[{', /not valid JSON/],
    ['set,left,right\nx,l,r\nx,l,r\n', /names the set x twice/],
    ['name,left,right\nx,l,r\n', /row 1, set is missing/],
  ])('that cannot be used says why: %j', async (text, reason) => {
    put('list', text);
    await expect(readManifest(join(folder, 'list'))).rejects.toThrow(reason);
  });
});
