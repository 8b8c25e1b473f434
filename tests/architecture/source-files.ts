/** The files that the architecture tests look at. */
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';

export const ROOT = join(import.meta.dirname, '..', '..');

/** Paths of all files below a folder of the project, relative to that folder, with forward slashes. */
export function listFiles(folder: string): string[] {
  const base = join(ROOT, folder);
  return readdirSync(base, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(base, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .toSorted();
}

/** Code below a folder: path -> text. */
export function readSources(folder: string): Map<string, string> {
  const files = listFiles(folder).filter((file) => /\.[cm]?[jt]sx?$/.test(file));
  return new Map(files.map((file) => [file, readFileSync(join(ROOT, folder, file), 'utf8')]));
}

/** Everything that belongs to the project: known to git, or new and not ignored. Without git, what npm packs is not known and this throws. */
export function listTracked(): string[] {
  const options = ['ls-files', '-z', '--cached', '--others', '--exclude-standard'];
  const names = execFileSync('git', options, { cwd: ROOT, encoding: 'utf8' }).split('\0');
  return names.filter((name) => name !== '' && existsSync(join(ROOT, name)));
}

export function readText(path: string): string {
  return readFileSync(join(ROOT, path), 'utf8');
}
