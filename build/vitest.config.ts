import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** Whole programs, browsers and their cameras: they use every core by themselves and mind being kept waiting. */
const WHOLE_PROGRAMS = ['tests/end-to-end', 'tests/interface', 'tests/shells/desktop'].map(
  (folder) => `${folder}/**/*.test.ts`,
);

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    testTimeout: 180_000,
    hookTimeout: 120_000,
    pool: 'forks',
    projects: [
      {
        extends: true,
        test: {
          name: 'rooms',
          include: ['tests/**/*.test.ts'],
          exclude: WHOLE_PROGRAMS,
          maxWorkers: '100%',
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: { name: 'programs', include: WHOLE_PROGRAMS, maxWorkers: 1, sequence: { groupOrder: 1 } },
      },
    ],
  },
});
