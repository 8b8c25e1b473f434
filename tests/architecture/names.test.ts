/** No file reaches itself through its imports, types included; no file exports a value that no other one imports. */
import { describe, expect, it } from 'vitest';
import { circlesOf, unusedExports } from './read-names.ts';
import { readSources } from './source-files.ts';

const sources = new Map([...readSources('src')].map(([path, text]) => [`src/${path}`, text]));

/** How many there still are; to be lowered with each that goes. */
const CIRCLES = 6;
const UNUSED = 235;

describe('imports', () => {
  it('run in no circle', () => {
    const circles = circlesOf(sources).map((files) => files.join(' '));
    expect(circles.length, circles.join('\n')).toBeLessThanOrEqual(CIRCLES);
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
  it('are imported by another file', () => {
    const unused = unusedExports(sources);
    expect(unused.length, unused.join('\n')).toBeLessThanOrEqual(UNUSED);
  });

  it('are seen where only a test would import them', () => {
    const planted = new Map([
      ['src/a.ts', 'export const used = 1;\nexport const unused = 2;\nexport interface Shape { size: number }'],
      ['src/b.ts', "import { used as other } from './a.ts';\nexport { other };"],
      ['src/c.ts', "import * as all from './b.ts';\nall.other;"],
    ]);
    expect(unusedExports(planted)).toEqual(['src/a.ts unused']);
    planted.set('src/d.ts', "const late = async () => (await import('./a.ts')).unused;\nlate;");
    expect(unusedExports(planted)).toEqual([]);
  });
});
