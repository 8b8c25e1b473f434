/** Every test mirrors a source file; every source file with something to run has its test, or is listed with another. */
import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { STARTED, TESTED_ELSEWHERE, TESTS_OF_SEVERAL } from './mirrored.ts';
import { hasRuntimeExports, readImports } from './read-imports.ts';
import { readSources, readText } from './source-files.ts';

/** Folders of tests that mirror no room. */
const APART = /^(architecture|bench|reference)\//;

const sources = readSources('src');
const allTests = readSources('tests');
const tests = [...allTests.keys()].filter((file) => file.endsWith('.test.ts') && !APART.test(file));
const testOf = (source: string) => source.replace(/\.ts$/, '.test.ts');
const mirrorsSource = (test: string) =>
  ['.ts', '.tsx'].some((ending) => sources.has(test.replace(/\.test\.ts$/, ending)));
/** What is drawn, and the hooks that it draws with, is looked at in a browser (tests/interface, tests/end-to-end). */
const DRAWN = /\.tsx$|^shells\/interface\/(.+\/)?use-[a-z-]+\.ts$/;
const withSomethingToRun = [...sources]
  .filter(([file, text]) => !DRAWN.test(file) && hasRuntimeExports(file, text))
  .map(([file]) => file);

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

/** Whether a test imports a source file, or starts it as a program, itself or through others. */
function reaches(test: string, source: string): boolean {
  const reached = new Set<string>([`tests/${test}`, ...(test in STARTED ? [`src/${STARTED[test]}`] : [])]);
  for (const file of reached) for (const next of neighbours.get(file) ?? []) reached.add(next);
  return reached.has(`src/${source}`);
}

describe('every test', () => {
  it('was seen', () => expect(tests.length).toBeGreaterThan(60));

  it('mirrors a source file, or says what it is about', () => {
    const lost = tests.filter((test) => !mirrorsSource(test) && !(test in TESTS_OF_SEVERAL));
    expect(lost).toEqual([]);
  });

  it('is listed only as long as it must be', () => {
    const needless = Object.keys(TESTS_OF_SEVERAL).filter((test) => !tests.includes(test) || mirrorsSource(test));
    expect(needless).toEqual([]);
    for (const subject of Object.values(TESTS_OF_SEVERAL)) expect(subject).toMatch(/^[a-z].{15,}$/);
  });
});

describe('every source file with something to run', () => {
  it('has a test of its name, or is listed with the test that tries it', () => {
    const untested = withSomethingToRun.filter((file) => !tests.includes(testOf(file)) && !(file in TESTED_ELSEWHERE));
    expect(untested).toEqual([]);
  });

  it('is listed only as long as it must be', () => {
    const needless = Object.keys(TESTED_ELSEWHERE).filter(
      (file) => !withSomethingToRun.includes(file) || tests.includes(testOf(file)),
    );
    expect(needless).toEqual([]);
  });

  it('is started only where it is the entry of a program', () => {
    const built = readText('electron.vite.config.ts');
    expect(Object.values(STARTED).filter((entry) => !built.includes(`'src/${entry}'`))).toEqual([]);
  });

  it.each(Object.entries(TESTED_ELSEWHERE))('%s is reached by %s', (file, test) => {
    expect(tests).toContain(test);
    expect(reaches(test, file)).toBe(true);
  });
});
