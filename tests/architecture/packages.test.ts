/** Every package has its use, its exact version and its reason; what is shipped is what the rooms import. */
import { describe, expect, it } from 'vitest';
import { readImports } from './read-imports.ts';
import { ROOMS } from '../../build/rooms.ts';
import { listProject, readSources, readText } from './source-files.ts';

/** Packages that nothing imports or runs yet, with what they wait for. An entry that is used by now is an error. */
const AWAITED: Readonly<Record<string, string>> = {
  'axe-core': 'the accessibility scan',
};

/** Used by other packages under their own names. */
const NEEDED_BY_OTHERS: Readonly<Record<string, string>> = {
  vite: 'electron-vite and vitest build with it',
};

/** The command that a package brings, where it is not the package's name. */
const COMMANDS: Readonly<Record<string, string>> = { typescript: 'tsc', '@biomejs/biome': 'biome' };

const manifest = JSON.parse(readText('package.json'));
const lock = JSON.parse(readText('package-lock.json'));
const shipped = Object.keys(manifest.dependencies);
const tools = Object.keys(manifest.devDependencies);

const imported = new Set(
  [...readSources('tests'), ...readSources('build'), ['electron.vite.config.ts', readText('electron.vite.config.ts')]]
    .flatMap(([path, text]) => readImports(path!, text!))
    .flatMap(({ specifier }) => (specifier === undefined ? [] : [specifier])),
);

const scripts = Object.values<string>(manifest.scripts).join(' && ');
const isImported = (name: string) => [...imported].some((found) => found === name || found.startsWith(`${name}/`));
const isRun = (name: string) => new RegExp(`(^|&& )${COMMANDS[name] ?? name} `).test(scripts);

const grantedTo = (...runtimes: string[]) =>
  Object.values(ROOMS)
    .filter(({ runtime }) => runtimes.includes(runtime))
    .flatMap(({ packages }) => packages.map(({ name }) => name))
    .filter((name) => !name.startsWith('node:'));

/** Named by the build's settings as taken into the built files; of these the desktop's package needs no copy. */
const BUILT_IN = ['d3-scale', 'intl-messageformat', 'react', 'react-dom'];

describe('package.json', () => {
  it('ships exactly the packages that the rooms import, but for those that are built in', () => {
    const packages = new Set(
      grantedTo('any', 'node').filter((name) => name !== 'electron' && !BUILT_IN.includes(name)),
    );
    expect(shipped.toSorted()).toEqual([...packages].toSorted());
    const settings = readText('electron.vite.config.ts');
    expect(BUILT_IN.filter((name) => !settings.includes(`'${name}'`) || !tools.includes(name))).toEqual([]);
  });

  it('ships what pages import within the build, and the runtime within the desktop', () => {
    expect(grantedTo('dom').filter((name) => !shipped.includes(name) && !tools.includes(name))).toEqual([]);
    expect(tools).toContain('electron');
  });

  it('has a use, or a stated place, for every other package', () => {
    const useless = tools.filter((name) => {
      if (name in AWAITED || name in NEEDED_BY_OTHERS) return false;
      if (name === '@types/node' || grantedTo('dom').includes(name) || BUILT_IN.includes(name)) return false;
      const described = name.startsWith('@types/') ? name.slice('@types/'.length) : undefined;
      if (described !== undefined) return !shipped.includes(described) && !tools.includes(described);
      return !isImported(name) && !isRun(name);
    });
    expect(useless).toEqual([]);
  });

  it('awaits nothing that is used by now', () => {
    const awaited = Object.keys(AWAITED);
    expect(awaited.filter((name) => !tools.includes(name))).toEqual([]);
    expect(awaited.filter((name) => isImported(name) || isRun(name))).toEqual([]);
  });

  it('names exact versions', () => {
    const versions = Object.entries<string>({ ...manifest.dependencies, ...manifest.devDependencies });
    expect(versions.filter(([, version]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version))).toEqual([]);
  });

  it('describes the types of the oldest Node that it runs on', () => {
    const oldest = /^>=(\d+)\./.exec(manifest.engines.node)![1];
    expect(manifest.devDependencies['@types/node'].split('.')[0]).toBe(oldest);
  });

  it('runs files that are there', () => {
    const named = scripts.split(' ').filter((word) => /^[\w./-]+\.(ts|json)$/.test(word) && !word.startsWith('out/'));
    expect(named).toContain('build/vitest.config.ts');
    expect(named.filter((path) => !listProject().includes(path))).toEqual([]);
  });

  it('points the command at what the build writes', () => {
    expect(manifest.bin).toEqual({ twinplumb: 'out/node/twinplumb.js' });
    const entry = readText('src/shells/command/main.ts');
    expect(entry.startsWith('#!/usr/bin/env node\n')).toBe(true);
  });
});

describe('the lock file', () => {
  const entries = Object.entries<Record<string, unknown>>(lock.packages).filter(([path]) => path !== '');

  it('agrees with package.json', () => {
    expect(lock.packages[''].dependencies).toEqual(manifest.dependencies);
    expect(lock.packages[''].devDependencies).toEqual(manifest.devDependencies);
    expect(entries.length).toBeGreaterThan(100);
  });

  it('fixes the content of every package and no place to fetch it from', () => {
    expect(entries.filter(([, entry]) => entry.integrity === undefined).map(([path]) => path)).toEqual([]);
    expect(entries.filter(([, entry]) => entry.resolved !== undefined).map(([path]) => path)).toEqual([]);
    expect(readText('.npmrc')).toContain('omit-lockfile-registry-resolved=true');
  });
});

describe('the page of packages', () => {
  it('gives every package its reason', () => {
    const rows = readText('src/manual/developers/packages.md').split('\n');
    const unexplained = [...shipped, ...tools].filter(
      (name) => !rows.some((row) => row.startsWith('| ') && row.split('|')[1]!.includes(`\`${name}\``)),
    );
    expect(unexplained).toEqual([]);
  });
});
