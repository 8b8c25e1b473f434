/**
 * `npm test`: all tests. Those that sample (programs killed again and again, photographs drawn again and again) run beside
 * the others, in a run of their own that mostly waits; what it says comes after the others have said theirs.
 *
 * With arguments there is one run, which is given them: `npm test -- tests/kernel`. Without, the results of both runs stand
 * in out/test-results as JSON.
 */
import { spawn } from 'node:child_process';
import { mkdirSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';

const VITEST = join(dirname(createRequire(import.meta.url).resolve('vitest/package.json')), 'vitest.mjs');
const RESULTS = 'out/test-results';

function run(words, stdio) {
  const all = [VITEST, 'run', '--config', 'build/vitest.config.ts', ...words];
  const child = spawn(process.execPath, all, { stdio: ['ignore', ...stdio] });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream?.setEncoding('utf8').on('data', (text) => {
      said += text;
    });
  }
  return new Promise((resolve) => {
    child.on('close', (code) => resolve({ status: code ?? 1, said }));
  });
}

const given = process.argv.slice(2);
if (given.length > 0) {
  process.exitCode = (await run(given, ['inherit', 'inherit'])).status;
} else {
  rmSync(RESULTS, { recursive: true, force: true });
  mkdirSync(RESULTS, { recursive: true });
  const keep = (name) => ['--reporter=default', '--reporter=json', `--outputFile.json=${RESULTS}/${name}.json`];
  const sampling = run(['--project', 'sampling', ...keep('sampling')], ['pipe', 'pipe']);
  const others = await run(['--project', '!sampling', ...keep('others')], ['inherit', 'inherit']);
  const { status, said } = await sampling;
  process.stdout.write(said);
  process.exitCode = others.status || status;
}
