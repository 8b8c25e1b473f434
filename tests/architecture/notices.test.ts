/** What the page on licences lists is what is shipped or built in. */
import { describe, expect, it } from 'vitest';
import { collectNotices } from '../../build/collect-notices.ts';
import { ROOT, readText } from './source-files.ts';

const { version, licence, packages } = collectNotices(ROOT);
const lock = JSON.parse(readText('package-lock.json')).packages;
const named = packages.map(({ name }) => name);

describe('the notices', () => {
  it('have the version and the licence of the program', () => {
    expect(version).toBe(JSON.parse(readText('package.json')).version);
    expect(licence).toContain('MIT');
  });

  it('name what is shipped, what is built in and what these need, once each, and no tools', () => {
    expect(named).toEqual(
      expect.arrayContaining(['sharp', 'react', 'react-markdown', 'mdast-util-to-hast', 'd3-array', 'electron', 'zod']),
    );
    for (const tool of ['vitest', 'typescript', '@types/react', 'playwright', 'axe-core', 'electron-builder']) {
      expect(named).not.toContain(tool);
    }
    expect(new Set(packages.map(({ name, version: of }) => `${name} ${of}`)).size).toBe(packages.length);
  });

  it('give versions and licences of the lock file, and the text of each', () => {
    for (const name of ['sharp', 'react-markdown', 'minisearch']) {
      const { version: of, license } = lock[`node_modules/${name}`];
      expect(packages.find((each) => each.name === name)).toMatchObject({ version: of, licence: license });
    }
    expect(packages.filter(({ licence: of }) => of === 'see its text').map(({ name }) => name)).toEqual([]);
    expect(packages.filter(({ text }) => text === null).map(({ name }) => name)).toEqual([]);
  });
});
