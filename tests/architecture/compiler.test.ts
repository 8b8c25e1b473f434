/** The compiler itself refuses what a room must not have: tried with the rooms' own settings on planted files. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from './source-files.ts';

/** Path under the planted src -> text. */
const PLANTED: Readonly<Record<string, string>> = {
  'kernel/clean.ts': 'export const half = (x: number): number => x / 2;\n',
  'kernel/page.ts': 'export const title = document.title;\n',
  'kernel/process.ts': 'export const home = process.cwd();\n',
  'kernel/console.ts': "console.log('hello');\nexport {};\n",
  'kernel/buffer.ts': 'export const bytes = Buffer.alloc(1);\n',
  'kernel/clock.ts': 'export const later = setTimeout(() => {}, 1);\n',
  'kernel/builtin.ts': "import { readFileSync } from 'node:fs';\nexport const text = readFileSync('x', 'utf8');\n",
  'kernel/upward.ts': "import type { Grid } from '../imaging/grid.ts';\nexport type Again = Grid;\n",
  'imaging/grid.ts':
    "import { half } from '../kernel/clean.ts';\nexport interface Grid { size: number }\nexport const grid: Grid = { size: half(2) };\n",
  'imaging/sideways.ts': "import { size } from '../photo/size.ts';\nexport const again = size;\n",
  'photo/size.ts': 'export const size = 1;\n',
  'photo/photo.ts': "import { readFileSync } from 'node:fs';\nexport const photo = readFileSync(process.argv[0]!);\n",
};

let folder = '';
let errors: readonly { file: string; code: string }[] = [];

beforeAll(() => {
  // Inside the project, so that the types of Node are found where a room may have them.
  mkdirSync(join(ROOT, 'out'), { recursive: true });
  folder = mkdtempSync(join(ROOT, 'out', 'planted-'));
  cpSync(join(ROOT, 'build'), join(folder, 'build'), { recursive: true });
  for (const room of ['kernel', 'imaging', 'photo']) {
    cpSync(join(ROOT, 'src', room, 'tsconfig.json'), join(folder, 'src', room, 'tsconfig.json'));
  }
  for (const [path, text] of Object.entries(PLANTED)) {
    const file = join(folder, 'src', path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
  errors = compile('src/kernel', 'src/imaging', 'src/photo');
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

function compile(...projects: string[]): { file: string; code: string }[] {
  const compiler = join(ROOT, 'node_modules', 'typescript', 'bin', 'tsc');
  const { stdout, error } = spawnSync(process.execPath, [compiler, '--build', '--pretty', 'false', ...projects], {
    cwd: folder,
    encoding: 'utf8',
  });
  if (error) throw error;
  return [...stdout.matchAll(/^src\/(\S+?)\(\d+,\d+\): error (TS\d+)/gm)].map(([, file, code]) => ({
    file: file!,
    code: code!,
  }));
}

const codesIn = (file: string) => errors.filter((found) => found.file === file).map(({ code }) => code);

describe('in a room that runs anywhere, the compiler', () => {
  // 2304, 2580, 2584, 2591: the name does not exist; 2307: nor does the module.
  it.each([
    ['kernel/page.ts', /^TS(2304|2584)$/],
    ['kernel/process.ts', /^TS(2304|2580|2591)$/],
    ['kernel/console.ts', /^TS(2304|2584)$/],
    ['kernel/buffer.ts', /^TS(2304|2580|2591)$/],
    ['kernel/clock.ts', /^TS(2304|2552|2584)$/],
    ['kernel/builtin.ts', /^TS(2307|2580|2591)$/],
  ])('refuses %s', (file, code) => {
    expect(codesIn(file)[0]).toMatch(code);
  });

  it('refuses an upward import, even of a type alone', () => {
    expect(codesIn('kernel/upward.ts')[0]).toMatch(/^TS6307$/);
  });

  it('accepts what is allowed', () => {
    expect(codesIn('kernel/clean.ts')).toEqual([]);
    expect(codesIn('imaging/grid.ts')).toEqual([]);
  });
});

describe('between rooms, the compiler', () => {
  it('refuses a room that no reference names', () => {
    expect(codesIn('imaging/sideways.ts')).toContain('TS6307');
  });

  it("gives Node to Node's rooms", () => {
    expect(codesIn('photo/photo.ts')).toEqual([]);
  });
});
