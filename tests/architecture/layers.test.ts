/** Each room imports only what the table allows; the guard itself is tried on planted violations. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkImports } from './check-imports.ts';
import { FOLDERS_WITHOUT_CODE, ROOMS, type Room } from '../../build/rooms.ts';
import { listFiles, readSources, ROOT } from './source-files.ts';

/** Files that the walk must at least see; far fewer means that it looked in the wrong place. */
const FEWEST_FILES = 120;

const sources = readSources('src');
const assets = listFiles('src').filter((file) => /\.(css|json)$/.test(file));

describe('the sources', () => {
  const checked = checkImports(sources, ROOMS, assets);

  it('import only what the table allows', () => {
    expect(checked.violations.map(({ file, line, reason }) => `src/${file}:${line} ${reason}`)).toEqual([]);
  });

  it('were seen, all of them, and some in every room', () => {
    const seen = [...checked.filesOf.values()].reduce((sum, count) => sum + count, 0);
    expect(seen).toBe(sources.size);
    expect(seen).toBeGreaterThanOrEqual(FEWEST_FILES);
    expect([...checked.filesOf].filter(([, count]) => count === 0)).toEqual([]);
  });

  it('use every package that the table grants', () => {
    const granted = Object.entries(ROOMS).flatMap(([room, { packages }]) =>
      packages.map(({ name }) => `${room} ${name}`),
    );
    expect([...checked.used].toSorted()).toEqual(granted.toSorted());
  });
});

describe('the table', () => {
  it('lists every folder of src', () => {
    const folders = readdirSync(join(ROOT, 'src'), { withFileTypes: true }).map((entry) => entry.name);
    const listed = [...Object.keys(ROOMS).map((room) => room.split('/')[0]!), ...FOLDERS_WITHOUT_CODE];
    expect(folders.toSorted()).toEqual([...new Set(listed)].toSorted());
  });

  it('runs one way: no room reaches itself through others', () => {
    const reaches = (from: string, seen: readonly string[]): string[] =>
      ROOMS[from]!.rooms.flatMap((next) =>
        seen.includes(next) ? [[...seen, next].join(' > ')] : reaches(next, [...seen, next]),
      );
    expect(Object.keys(ROOMS).flatMap((room) => reaches(room, [room]))).toEqual([]);
  });

  it('lets a room that runs anywhere, or in a page, import only rooms that run anywhere', () => {
    const anywhere = Object.entries(ROOMS).filter(([, { runtime }]) => runtime !== 'node');
    expect(anywhere.flatMap(([, { rooms }]) => rooms).filter((name) => ROOMS[name]!.runtime !== 'any')).toEqual([]);
    expect(anywhere.flatMap(([, { packages }]) => packages).filter(({ name }) => name.startsWith('node:'))).toEqual([]);
  });
});

describe('a planted violation is seen', () => {
  const rooms: Record<string, Room> = {
    ground: { holds: 'a floor', rooms: [], packages: [], runtime: 'any' },
    upper: { holds: 'a roof', rooms: ['ground'], packages: [{ name: 'zod', only: 'upper/shape' }], runtime: 'any' },
    shell: { holds: 'a shell', rooms: ['upper'], packages: [{ name: 'node:fs' }], runtime: 'node' },
  };
  const reasons = (file: string, source: string) => {
    const planted = new Map([
      ['ground/floor.ts', 'export const floor = 0;'],
      ['upper/shape/form.ts', "import { z } from 'zod';\nimport * as core from 'zod/v4/core';\nexport { z, core };"],
      ['shell/main.ts', "import { readFileSync } from 'node:fs';\nreadFileSync;"],
      [file, source],
    ]);
    return checkImports(planted, rooms).violations.map((v) => `${v.file}:${v.line} ${v.reason}`);
  };

  it('and nothing else is', () => {
    expect(reasons('upper/roof.ts', "import { floor } from '../ground/floor.ts';\nexport { floor };")).toEqual([]);
  });

  it.each([
    ['an upward import', "\nimport { roof } from '../upper/shape/form.ts';", 2, 'ground may not import upper'],
    ['an import for types only', "import type { R } from '../upper/shape/form.ts';", 1, 'ground may not import upper'],
    ['a type named in place', "type R = import('../upper/shape/form.ts').R;", 1, 'ground may not import upper'],
    [
      'a dynamic import',
      "const r = async () => (await import('../upper/shape/form.ts')).z;",
      1,
      'ground may not import upper',
    ],
    ['a re-export', "export { z } from '../upper/shape/form.ts';", 1, 'ground may not import upper'],
    ['a re-export of all', "export * from '../upper/shape/form.ts';", 1, 'ground may not import upper'],
    ['an import for its effect', "import '../upper/shape/form.ts';", 1, 'ground may not import upper'],
    ['an import in the old way', "import r = require('../upper/shape/form.ts');", 1, 'ground may not import upper'],
    ['a call of require', "const r = require('../upper/shape/form.ts');", 1, 'ground may not import upper'],
    ['a reference in a comment', '/// <reference path="../upper/shape/form.ts" />', 1, 'ground may not import upper'],
    ['types by a comment', '/// <reference types="node" />', 1, 'ground may not import the package node'],
    ['an unlisted package', "import sharp from 'sharp';", 1, 'ground may not import the package sharp'],
    ['a package with a scope', "import x from '@scope/name/part';", 1, 'ground may not import the package @scope/name'],
    [
      'a module of Node',
      "import { readFileSync } from 'node:fs';",
      1,
      'ground runs anywhere and may not import node:fs',
    ],
    ['a module of Node without its prefix', "import fs from 'fs';", 1, 'fs must be written node:fs'],
    ['a name that only run time knows', 'const r = (n: string) => import(n);', 1, 'imports what only run time knows'],
    ['a file that is not there', "import { x } from './absent.ts';", 1, './absent.ts does not exist'],
    ['a way out of the rooms', "import x from '../../tests/x.ts';", 1, '../../tests/x.ts lies in no listed room'],
  ])('%s', (_name, source, line, reason) => {
    expect(reasons('ground/planted.ts', source)).toEqual([`ground/planted.ts:${line} ${reason}`]);
  });

  it('a style sheet that is not there, or of a room below', () => {
    const planted = new Map([['shell/page.tsx', "import './page.css';\nimport '../ground/floor.css';"]]);
    const found = (assets: readonly string[]) => checkImports(planted, rooms, assets).violations.map((v) => v.reason);
    expect(found(['shell/page.css'])).toEqual(['shell may not import ground']);
    expect(found([])).toEqual(['./page.css does not exist', 'shell may not import ground']);
  });

  it('a package outside its place', () => {
    expect(reasons('upper/roof.ts', "import { z } from 'zod';")).toEqual([
      'upper/roof.ts:1 only upper/shape may import the package zod',
    ]);
  });

  it('a module of Node that is not listed', () => {
    expect(reasons('shell/net.ts', "import 'node:http';")).toEqual([
      'shell/net.ts:1 shell may not import the package node:http',
    ]);
  });

  it('a room that nobody listed', () => {
    expect(reasons('cellar/wine.ts', '')).toEqual(['cellar/wine.ts:1 lies in no listed room']);
    expect(reasons('loose.ts', '')).toEqual(['loose.ts:1 lies in no listed room']);
  });

  it('a file that cannot be parsed', () => {
    expect(() => reasons('ground/broken.ts', 'const = ;')).toThrow('ground/broken.ts cannot be parsed');
  });
});
