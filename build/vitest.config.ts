import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** Whole programs and browsers, which use every core by themselves. */
const PROGRAMS = ['tests/end-to-end', 'tests/interface', 'tests/shells/desktop'].map(
  (folder) => `${folder}/**/*.test.ts`,
);
/** Films before a browser, which mind being kept waiting. */
const FILMS = ['tests/end-to-end/camera.test.ts'];

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
          name: 'rooms',
          isolate: false,
          include: ['tests/**/*.test.ts'],
          exclude: PROGRAMS,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: { name: 'programs', include: PROGRAMS, exclude: FILMS, sequence: { groupOrder: 1 } },
      },
      {
        extends: true,
        test: { name: 'films', include: FILMS, maxWorkers: 1, sequence: { groupOrder: 2 } },
      },
    ],
  },
});
