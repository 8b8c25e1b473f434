/** The files that the architecture tests look at. */
import { readdirSync, readFileSync } from 'node:fs';
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

/** The top level. Whatever else lies there (a target that somebody drew, a report) does not belong to the project. */
const FOLDERS = ['src', 'tests', 'test-images', 'build', '.ci'];
const FILES = [
  'package.json',
  'package-lock.json',
  'electron.vite.config.ts',
  'tsconfig.json',
  'README.md',
  'DEVELOPERS.md',
  'LICENSE',
  '.gitignore',
  '.editorconfig',
  '.npmrc',
];

/** Paths of all files of the project, from its root. */
export function listProject(): string[] {
  return [...FILES, ...FOLDERS.flatMap((folder) => listFiles(folder).map((file) => `${folder}/${file}`))];
}

export function readText(path: string): string {
  return readFileSync(join(ROOT, path), 'utf8');
}
