/** What follows from the table of rooms is written as it follows: projects of the compiler and the table of the page. */
import { existsSync } from 'node:fs';
import { join, posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOMS } from '../../build/rooms.ts';
import { deriveFromRooms } from '../../build/write-rooms.ts';
import { listFiles, readText, ROOT } from './source-files.ts';

const derived = deriveFromRooms(readText('DEVELOPERS.md'));

describe('what follows from the table of rooms', () => {
  it.each([...derived])('is what stands in %s (npm run rooms writes it)', (path, text) => {
    expect(readText(path)).toBe(text);
  });

  it('is every project under src, and no other', () => {
    const projects = listFiles('src').filter((file) => posix.basename(file) === 'tsconfig.json');
    expect(projects.map((file) => posix.dirname(file)).toSorted()).toEqual(Object.keys(ROOMS).toSorted());
  });

  it('tells a room what it may import, and from what its types come', () => {
    const page = 'before\n<!-- rooms:begin -->\nold\n<!-- rooms:end -->\nafter\n';
    const rooms = {
      ground: { holds: 'what the rest stands on', rooms: [], packages: [], runtime: 'any' },
      'shells/page': {
        holds: 'screens',
        rooms: ['ground'],
        packages: [{ name: 'zod', only: 'shells/page/form.ts' }, { name: 'react' }],
        runtime: 'dom',
        data: true,
      },
    } as const;
    const written = deriveFromRooms(page, rooms);
    expect(JSON.parse(written.get('src/shells/page/tsconfig.json')!)).toEqual({
      extends: '../../../build/tsconfig.dom.json',
      include: ['**/*.ts', '**/*.tsx', '**/*.json'],
      references: [{ path: '../../ground' }],
    });
    expect(JSON.parse(written.get('tsconfig.json')!).references).toEqual([
      { path: 'src/ground' },
      { path: 'src/shells/page' },
      { path: 'tests' },
    ]);
    expect(written.get('DEVELOPERS.md')!.split('\n').slice(4, 8)).toEqual([
      '| `src/ground` | what the rest stands on | – | – | any |',
      '| `src/shells/page` | screens | `ground` | `zod` only in `src/shells/page/form.ts`, `react` | dom |',
      '<!-- rooms:end -->',
      'after',
    ]);
  });
});

describe('the table of rooms', () => {
  it('says what each room holds, in words', () => {
    expect(Object.values(ROOMS).filter(({ holds }) => holds.length <= 10)).toEqual([]);
  });

  it('grants packages to places that are there', () => {
    const places = Object.values(ROOMS).flatMap(({ packages }) => packages.flatMap(({ only }) => only ?? []));
    expect(places.filter((place) => !existsSync(join(ROOT, 'src', place)))).toEqual([]);
  });

  it('gives rooms that run anywhere no types of Node and no page', () => {
    const anywhere = JSON.parse(readText('build/tsconfig.any.json')).compilerOptions;
    expect(anywhere).toMatchObject({ lib: ['ES2023'], types: [], strict: true, composite: true });
    const node = JSON.parse(readText('build/tsconfig.node.json'));
    expect(node).toEqual({ extends: './tsconfig.any.json', compilerOptions: { types: ['node'] } });
  });
});
