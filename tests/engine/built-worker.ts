/** The worker as it is built, and workers that come to grief, for the tests of the engine. */
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
export const BUILT_WORKER = join(ROOT, 'out/node/engine-worker.js');

/** `npm test` builds before it tests; a test that is run alone may come first. */
export function requireBuiltWorker(): void {
  if (existsSync(BUILT_WORKER)) return;
  const build = ['electron-vite', 'build', '--config', 'electron.vite.config.ts', '--logLevel', 'error'];
  execFileSync('npx', build, { cwd: ROOT, stdio: 'inherit' });
  if (!existsSync(BUILT_WORKER)) throw new Error(`the build made no ${BUILT_WORKER}; is it an entry of the build?`);
}

/** The built worker, which comes to grief by `how` in the middle of a job whose photograph is called `fatal`. */
export async function writeFrailWorker(path: string, how: string): Promise<string> {
  const lines = [
    "import { parentPort } from 'node:worker_threads';",
    `parentPort.on('message', ({ request }) => { if (request?.path === 'fatal') { ${how} } });`,
    `await import(${JSON.stringify(pathToFileURL(BUILT_WORKER).href)});`,
  ];
  await writeFile(path, lines.join('\n'));
  return path;
}
