/**
 * What tests render again and again (photographs, films of a camera), kept under out/rendered for all of them and for the
 * next run. The key holds the content of everything that renders, so that nothing old is ever taken for new.
 */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const ROOT = join(import.meta.dirname, '..');
const PLACE = join(ROOT, 'out', 'rendered');
const RENDERED_BY = [
  'src/kernel',
  'src/imaging',
  'src/target',
  'src/scene',
  'tests/vision',
  'tests/application',
  'tests/interface',
];

let folder: string | undefined;

/** Named by the code; what other code has rendered is thrown away. */
function currentFolder(): string {
  if (folder === undefined) {
    const hash = createHash('sha256');
    for (const folder of RENDERED_BY) {
      const names = readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' });
      // Of the tests only what stands beside them renders.
      for (const name of names.filter((each) => /\.ts$/.test(each) && !each.endsWith('.test.ts')).sort()) {
        hash.update(name).update(readFileSync(join(ROOT, folder, name)));
      }
    }
    const name = hash.digest('hex').slice(0, 16);
    folder = join(PLACE, name);
    mkdirSync(folder, { recursive: true });
    for (const old of readdirSync(PLACE)) {
      if (old !== name) rmSync(join(PLACE, old), { recursive: true, force: true });
    }
  }
  return folder;
}

/** Path of a file that `make` writes where nobody has written it yet. `what` says all that it depends on beside the code. */
export function renderedFile(what: unknown, ending: string, make: (path: string) => void): string {
  const key = createHash('sha256').update(JSON.stringify(what)).digest('hex');
  const path = join(currentFolder(), `${key.slice(0, 32)}${ending}`);
  if (existsSync(path)) return path;
  const unfinished = `${path}.${process.pid}`;
  try {
    make(unfinished);
    renameSync(unfinished, path);
  } finally {
    rmSync(unfinished, { force: true });
  }
  return path;
}

/** The same for samples of one byte. */
export function renderedBytes(what: unknown, make: () => Uint8Array): Uint8Array {
  return new Uint8Array(readFileSync(renderedFile(what, '.bin', (path) => writeFileSync(path, make()))));
}
