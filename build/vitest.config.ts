import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const testsIn = (...folders: readonly string[]) => folders.map((folder) => `${folder}/**/*.test.ts`);

/** Kills, power cuts and random draws: they take long and mostly wait. `build/run-tests.mjs` runs them beside the others. */
const SAMPLING = [
  'tests/bench/cramer-rao.test.ts',
  'tests/logbook/durability.test.ts',
  'tests/workspace/stored-state.test.ts',
];
/** Whole programs and browsers, which use every core by themselves. */
const PROGRAMS = testsIn('tests/end-to-end', 'tests/interface');
/** They stand in for the runtime by replacing modules and globals, so that each file needs a process of its own. */
const DESKTOP = testsIn('tests/shells/desktop');

/**
 * Files of a project without isolation share a process, and with it what they have loaded and rendered. A helper of the
 * tests therefore registers no hooks when it is imported, and keeps nothing between tests but what is the same for all.
 */
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    testTimeout: 180_000,
    hookTimeout: 180_000,
    // What is waited for comes late where much else is going on at the same time.
    expect: { poll: { timeout: 90_000 } },
    pool: 'forks',
    maxWorkers: '100%',
    projects: [
      {
        extends: true,
        test: {
          name: 'programs',
          include: PROGRAMS,
          isolate: false,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'rooms',
          include: ['tests/**/*.test.ts'],
          exclude: [...PROGRAMS, ...DESKTOP, ...SAMPLING],
          isolate: false,
          sequence: { groupOrder: 1 },
        },
      },
      { extends: true, test: { name: 'desktop', include: DESKTOP, sequence: { groupOrder: 2 } } },
      {
        extends: true,
        test: { name: 'sampling', include: SAMPLING, maxWorkers: 1, sequence: { groupOrder: 3 } },
      },
    ],
  },
});
