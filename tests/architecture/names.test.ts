/** No file reaches itself through its imports, types included; no file exports a value that the program does not use. */
import { describe, expect, it } from 'vitest';
import { circlesOf, needlessExports } from './read-names.ts';
import { readSources } from './source-files.ts';

const read = (folder: string) => [...readSources(folder)].map(([path, text]) => [`${folder}/${path}`, text] as const);
const sources = new Map(read('src'));
const tests = new Map([...read('tests'), ...read('build')]);

/** Exports, as `file name`, that stay without a use in the program, and why. */
const FACES: readonly (readonly [RegExp, string])[] = [
  [/^src\/kernel\//, 'numbers whole in themselves: a conversion has its way back, a distribution its inverse'],
  [/^src\/geometry\//, 'estimates whole in themselves; the spine calls those that a reading needs'],
  [/^src\/wording\/[\w-]+\.ts [A-Z_]+$/, 'the codes that have words, for comparing them with those that rooms give'],
  [/^src\/wording\/catalogue\.ts transformMessages$/, 'puts a language that nobody speaks in place of the messages'],
  [/^src\/light\/explain-leaks\.ts predictLeaks$/, 'the model that explainLeaks turns round'],
  [
    /^src\/(turns\/follow-turns|application\/live\/measure-frame)\.ts /,
    'turns followed from frame to frame: the benchmark of live turning judges it, and no screen shows it yet',
  ],
  [/^src\/scene\//, 'the simulated projector makes photographs for tests and benchmarks too'],
];

describe('imports', () => {
  it('run in no circle', () => {
    expect(circlesOf(sources).map((files) => files.join(' '))).toEqual([]);
  });

  it('are seen to run in a circle, of types alone too', () => {
    const planted = new Map([
      ['src/a.ts', "import type { B } from './b.ts';\nexport type A = B;"],
      ['src/b.ts', "import { c } from './c.ts';\nexport type B = typeof c;"],
      ['src/c.ts', "export const c = (a: import('./a.ts').A) => a;"],
      ['src/d.ts', "export { c } from './c.ts';"],
    ]);
    expect(circlesOf(planted)).toEqual([['src/a.ts', 'src/b.ts', 'src/c.ts']]);
    planted.set('src/c.ts', 'export const c = 1;');
    expect(circlesOf(planted)).toEqual([]);
  });
});

describe('exports', () => {
  it('are imported by another file, or used beside a test of their own', () => {
    const found = needlessExports(sources, tests);
    const needless = found.filter((one) => !FACES.some(([face]) => face.test(one)));
    expect(FACES.filter(([face]) => !found.some((one) => face.test(one)))).toEqual([]);
    expect(needless).toEqual([]);
  });

  it('are seen where nothing but a test has a use for them', () => {
    const planted = new Map([
      ['src/a.ts', 'export const used = 1;\nexport const unused = 2;\nexport interface Shape { size: number }'],
      ['src/b.ts', "import { used as other } from './a.ts';\nexport { other };\n// inner\nexport const inner = other;"],
      ['src/c.ts', "import * as all from './b.ts';\nall.other;\nexport const step = 1;\nstep;"],
    ]);
    const test = new Map([
      ['tests/c.test.ts', "import { step } from '../src/c.ts';\nimport { unused } from '../src/a.ts';"],
    ]);
    expect(needlessExports(planted, test)).toEqual(['src/a.ts unused']);
    expect(needlessExports(planted, new Map())).toEqual(['src/a.ts unused', 'src/c.ts step']);
    planted.set(
      'src/d.ts',
      "import type { Shape } from './a.ts';\nexport type D = Shape;\n(await import('./a.ts')).unused;",
    );
    expect(needlessExports(planted, test)).toEqual([]);
  });
});
