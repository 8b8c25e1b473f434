import { chmodSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig } from 'electron-vite';

const COMMAND = 'twinplumb';

/**
 * One build for everything that runs on Node: the command line today. The desktop's main process,
 * preload and interface take their places in this file as further entries.
 */
export default defineConfig({
  main: {
    plugins: [
      {
        // The command also runs by its own path, not only where npm has made a link to it.
        name: 'make-command-executable',
        writeBundle: ({ dir = '' }) => chmodSync(join(dir, `${COMMAND}.js`), 0o755),
      },
    ],
    build: {
      outDir: 'out/node',
      sourcemap: true,
      externalizeDeps: { exclude: ['commander', 'sharp'] },
      rollupOptions: {
        input: { [COMMAND]: 'src/shells/command/main.ts' },
        output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: 'parts/[name]-[hash].js' },
      },
    },
  },
});
