/** The compiler's project references, the table of rooms and the table in DEVELOPERS.md say the same. */
import { existsSync } from 'node:fs';
import { join, posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOMS } from './rooms.ts';
import { listFiles, readText, ROOT } from './source-files.ts';

interface ProjectFile {
  readonly extends?: string;
  readonly include?: readonly string[];
  readonly compilerOptions?: object;
  readonly references: readonly { readonly path: string }[];
}

const readProject = (folder: string): ProjectFile => JSON.parse(readText(posix.join(folder, 'tsconfig.json')));

/** The folders that a project refers to, from the project's root. */
const referencesOf = (folder: string): string[] =>
  readProject(folder).references.map(({ path }) => posix.join(folder, path));

const inSrc = (rooms: readonly string[]) => rooms.map((room) => `src/${room}`).toSorted();

describe.each(Object.entries(ROOMS))('the project of %s', (room, { rooms, runtime }) => {
  const folder = `src/${room}`;

  it('refers to the rooms that it may import', () => {
    expect(referencesOf(folder).toSorted()).toEqual(inSrc(rooms));
  });

  it('has the settings of its runtime, unchanged, for all its files', () => {
    const { extends: base, include, compilerOptions, ...rest } = readProject(folder);
    expect(posix.join(folder, base!)).toBe(`build/tsconfig.${runtime}.json`);
    const holdsData = listFiles(folder).some((file) => /(?<!tsconfig)\.json$/.test(file));
    expect(include).toEqual([
      '**/*.ts',
      ...(runtime === 'dom' ? ['**/*.tsx'] : []),
      ...(holdsData ? ['**/*.json'] : []),
    ]);
    expect(compilerOptions).toBeUndefined();
    expect(Object.keys(rest)).toEqual(['references']);
  });
});

describe('the projects together', () => {
  it('are exactly the rooms and the tests', () => {
    expect(referencesOf('.').toSorted()).toEqual([...inSrc(Object.keys(ROOMS)), 'tests'].toSorted());
    const projects = listFiles('src').filter((file) => posix.basename(file) === 'tsconfig.json');
    expect(projects.map((file) => posix.dirname(file)).toSorted()).toEqual(Object.keys(ROOMS).toSorted());
    expect(referencesOf('tests').toSorted()).toEqual(inSrc(Object.keys(ROOMS)));
  });

  it('give rooms that run anywhere no types of Node and no page', () => {
    const anywhere = JSON.parse(readText('build/tsconfig.any.json')).compilerOptions;
    expect(anywhere).toMatchObject({ lib: ['ES2023'], types: [], strict: true, composite: true });
    const node = JSON.parse(readText('build/tsconfig.node.json'));
    expect(node).toEqual({ extends: './tsconfig.any.json', compilerOptions: { types: ['node'] } });
  });
});

describe('the table in DEVELOPERS.md', () => {
  /** room -> cells of its row: holds, rooms, packages, runtime. */
  const shown = new Map(
    [...readText('DEVELOPERS.md').matchAll(/^\| `src\/([a-z/-]+)` \|(.*)\|$/gm)].map(([, room, cells]) => [
      room!,
      cells!.split('|').map((cell) => cell.trim()),
    ]),
  );
  const codes = (cell: string) => [...cell.matchAll(/`([^`]+)`/g)].map((match) => match[1]!);

  it('has a row for every room, in the order of the table of rooms', () => {
    expect([...shown.keys()]).toEqual(Object.keys(ROOMS));
  });

  it.each(Object.entries(ROOMS))('shows %s as it is', (room, { rooms, packages, runtime }) => {
    const [holds, importing, packaged, where] = shown.get(room)!;
    expect(holds!.length).toBeGreaterThan(10);
    expect(codes(importing!).toSorted()).toEqual([...rooms].toSorted());
    const granted = packages.flatMap(({ name, only }) => (only === undefined ? [name] : [name, `src/${only}`]));
    expect(codes(packaged!).toSorted()).toEqual(granted.toSorted());
    expect(where).toBe(runtime);
    for (const { only } of packages) if (only !== undefined) expect(existsSync(join(ROOT, 'src', only))).toBe(true);
  });
});
