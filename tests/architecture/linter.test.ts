/** The linter's settings refuse what they are there for: tried on planted files. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { ROOT } from './source-files.ts';

const PLANTED: Readonly<Record<string, string>> = {
  'src/kernel/console.ts': "console.log('here');\n",
  'src/kernel/any.ts': 'export const f = (x: any): number => x.y;\n',
  'src/kernel/steady.ts': 'let steady = 1;\nexport { steady };\n',
  'src/kernel/unused.ts': "import { basename } from 'node:path';\nexport const a = 1;\n",
  'src/kernel/clean.ts': 'export const a = 1;\n',
  'tests/kernel/console.ts': "console.log('here');\n",
};

let folder = '';
let text = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'planted-'));
  cpSync(join(ROOT, 'build', 'linter.json'), join(folder, 'build', 'linter.json'));
  for (const [path, source] of Object.entries(PLANTED)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), source);
  }
  const biome = join(ROOT, 'node_modules', '@biomejs', 'biome', 'bin', 'biome');
  const words = ['lint', '--config-path=build/linter.json', '--error-on-warnings', '--colors=off', '.'];
  const done = spawnSync(process.execPath, [biome, ...words], { cwd: folder, encoding: 'utf8' });
  if (done.error) throw done.error;
  expect(done.status).not.toBe(0);
  text = `${done.stdout}${done.stderr}`;
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Rules that a file breaks. */
const brokenBy = (path: string) =>
  [...text.matchAll(/^(\S+?):\d+:\d+ lint\/\w+\/(\w+)/gm)].filter(([, file]) => file === path).map((match) => match[2]);

it.each([
  ['src/kernel/console.ts', 'noConsole'],
  ['src/kernel/any.ts', 'noExplicitAny'],
  ['src/kernel/steady.ts', 'useConst'],
  ['src/kernel/unused.ts', 'noUnusedImports'],
])('%s breaks %s', (path, rule) => {
  expect(brokenBy(path)).toEqual([rule]);
});

it('accepts clean code, and a console in tests', () => {
  expect(brokenBy('src/kernel/clean.ts')).toEqual([]);
  expect(brokenBy('tests/kernel/console.ts')).toEqual([]);
});
