/** A test lies in the room of what it tries, under its name where it tries one file; no file is out of every test's reach. */
import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOMS } from '../../build/rooms.ts';
import { roomOf } from './check-imports.ts';
import { readImports, runtimeExports } from './read-imports.ts';
import { readSources, readText } from './source-files.ts';

/** Folders of tests that mirror no room. */
const APART = /^(architecture|bench|reference)\//;
/** Whole programs, and their screens before a host that stands in. */
const PROGRAMS = /^(end-to-end|interface)\//;
/** What is drawn, and the hooks that it draws with, is looked at in a browser (tests/interface, tests/end-to-end). */
const DRAWN = /\.tsx$|^shells\/interface\/(.+\/)?use-[a-z-]+\.ts$/;

const sources = readSources('src');
const allTests = readSources('tests');
const tests = [...allTests.keys()].filter((file) => file.endsWith('.test.ts') && !APART.test(file));

/** File -> files of the project that it imports; all paths from the project's root. */
const neighbours = new Map<string, readonly string[]>(
  [
    ...[...sources].map(([file, text]) => [`src/${file}`, text] as const),
    ...[...allTests].map(([file, text]) => [`tests/${file}`, text] as const),
  ].map(([file, text]) => [
    file,
    readImports(file, text).flatMap(({ specifier }) =>
      specifier?.startsWith('.') ? [posix.join(posix.dirname(file), specifier)] : [],
    ),
  ]),
);

/** What these files reach through their imports, themselves included. */
function reachedFrom(files: readonly string[]): ReadonlySet<string> {
  const reached = new Set(files);
  for (const file of reached) for (const next of neighbours.get(file) ?? []) reached.add(next);
  return reached;
}

describe('every test', () => {
  it('was seen', () => expect(tests.length).toBeGreaterThan(60));

  it('lies in a room, or tries a whole program', () => {
    expect(tests.filter((test) => roomOf(test, ROOMS) === undefined && !PROGRAMS.test(test))).toEqual([]);
  });

  it('does not stand apart from the file whose name it has', () => {
    const inRoom = (test: string) =>
      [...sources.keys()].filter((file) => roomOf(file, ROOMS) === roomOf(test, ROOMS) && !PROGRAMS.test(test));
    const nameOf = (file: string) => posix.basename(file).replace(/(\.test)?\.tsx?$/, '');
    const apart = tests.filter((test) => {
      const named = inRoom(test).filter((file) => nameOf(file) === nameOf(test));
      return named.length > 0 && !named.some((file) => posix.dirname(file) === posix.dirname(test));
    });
    expect(apart).toEqual([]);
  });
});

describe('every source file with something to run', () => {
  const toRun = [...sources]
    .filter(([file, text]) => !DRAWN.test(file) && runtimeExports(file, text).length > 0)
    .map(([file]) => file);

  it('is reached by a test, or belongs to a program that tests start', () => {
    const fromTests = reachedFrom(tests.map((test) => `tests/${test}`));
    // Entries of programs are started, not imported: only what lies beside them counts as tried by that.
    const entries = [...readText('electron.vite.config.ts').matchAll(/'(src\/shells\/[\w/-]+\.ts)'/g)].map(
      ([, e]) => e!,
    );
    expect(entries.length).toBeGreaterThanOrEqual(3);
    const started = new Set(
      entries.flatMap((entry) =>
        [...reachedFrom([entry])].filter((file) => file.startsWith(`${posix.dirname(entry)}/`)),
      ),
    );
    expect(toRun.length).toBeGreaterThan(200);
    expect(toRun.filter((file) => !fromTests.has(`src/${file}`) && !started.has(`src/${file}`))).toEqual([]);
  });
});
