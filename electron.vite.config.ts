import { defineConfig } from 'electron-vite';

/**
 * One build for everything that runs on Node: the command line today. The desktop's main process,
 * preload and interface take their places in this file as further entries.
 */
export default defineConfig({
  main: {
    build: {
      outDir: 'out/node',
      sourcemap: true,
      externalizeDeps: true,
      rollupOptions: {
        input: { twinplumb: 'src/shells/command/main.ts' },
        output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: 'parts/[name]-[hash].js' },
      },
    },
  },
});
