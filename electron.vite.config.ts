import { chmodSync } from 'node:fs';
import { join } from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';
import { collectNotices } from './build/collect-notices.ts';

const COMMAND = 'twinplumb';
/**
 * What every measurement loads, as a few files instead of thirty: it starts sooner. Programs that leave measuring to the
 * engine need the first two.
 */
const PARTS = [
  { name: 'numbers', test: /\/src\/(kernel|imaging|photo\/recognise|target\/chart|record\/term)/ },
  { name: 'advice', test: /\/src\/(geometry|light|limits|diagnosis|turns|application\/pair\/(terms-of|known))/ },
  { name: 'photographs', test: /\/src\/photo\/|\/node_modules\/(sharp|detect-libc|semver)\// },
  { name: 'measuring', test: /\/src\/(vision(?!\/opencv\/load)|application\/(measure-photographs|pair\/|shot\/))/ },
  { name: 'words', test: /\/src\/wording/ },
].map((part, i, { length }) => ({ ...part, priority: length - i }));

/**
 * One build for everything: what runs on Node goes to out/node (each entry a program of its own, shared code in
 * out/node/parts), the interface, which any browser engine shows, to out/interface.
 */
export default defineConfig({
  main: {
    // A report is rendered by the short form of React, without its checks for those who develop.
    define: { 'process.env.NODE_ENV': JSON.stringify('production') },
    // The part of it that makes static markup; the package's face adds a second renderer, for streams, of the same size.
    resolve: {
      alias: {
        'react-dom/server': join(
          import.meta.dirname,
          'node_modules/react-dom/cjs/react-dom-server-legacy.node.production.js',
        ),
      },
    },
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
      // Reading these from a few files instead of some hundred and thirty starts every program a tenth of a second sooner.
      externalizeDeps: {
        exclude: ['commander', 'd3-scale', 'intl-messageformat', 'react', 'react-dom', 'sharp', 'zod'],
      },
      rollupOptions: {
        input: {
          [COMMAND]: 'src/shells/command/main.ts',
          'engine-worker': 'src/engine/worker.ts',
          'browser-host': 'src/shells/browser-host/main.ts',
          desktop: 'src/shells/desktop/main.ts',
        },
        output: {
          format: 'es',
          entryFileNames: '[name].js',
          chunkFileNames: 'parts/[name]-[hash].js',
          codeSplitting: { groups: PARTS },
        },
      },
    },
  },
  preload: {
    build: {
      outDir: 'out/preload',
      sourcemap: true,
      rollupOptions: {
        input: { desktop: 'src/shells/desktop/preload.ts' },
        // A preload in a sandbox is one file in the older form of modules.
        output: { format: 'cjs', entryFileNames: '[name].cjs' },
      },
    },
  },
  renderer: {
    root: 'src/shells/interface',
    // Relative, because the page is served from two different origins.
    base: './',
    plugins: [
      react(),
      {
        name: 'write-notices',
        generateBundle() {
          const source = JSON.stringify(collectNotices(import.meta.dirname));
          this.emitFile({ type: 'asset', fileName: 'notices.json', source });
        },
      },
    ],
    build: {
      outDir: 'out/interface',
      sourcemap: true,
      // Everything is a file of its own: the page's policy allows nothing that stands in the markup.
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
      rollupOptions: { input: 'src/shells/interface/index.html' },
    },
  },
});
