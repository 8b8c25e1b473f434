/**
 * Whose work is in the program, from the lock file: every package that is shipped or built in, with what it needs in
 * turn, its licence and that licence's text, or what the package says of it. The build writes it beside the interface.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOMS } from './rooms.ts';

interface LockedPackage {
  readonly version: string;
  readonly license?: string;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly optionalDependencies?: Readonly<Record<string, string>>;
}

export interface Notice {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
  readonly text: string | null;
}

const MODULES = 'node_modules/';

/** Sorted by name. `root` holds `package.json`, `package-lock.json` and `node_modules`. */
export function collectNotices(root: string): { version: string; licence: string; packages: Notice[] } {
  const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string };
  const { packages } = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')) as {
    packages: Readonly<Record<string, LockedPackage>>;
  };
  const found = new Set<string>();
  const add = (name: string, from: string): void => {
    const path = resolvePackage(name, from, packages);
    // Types are gone once compiled; parts for other systems are not installed; the desktop's runtime needs nothing of
    // what fetches it.
    if (path === undefined || found.has(path) || name.startsWith('@types/') || !existsSync(join(root, path))) return;
    found.add(path);
    if (name === 'electron') return;
    const { dependencies = {}, optionalDependencies = {} } = packages[path]!;
    for (const needed of Object.keys({ ...dependencies, ...optionalDependencies })) add(needed, path);
  };
  for (const { packages: allowed } of Object.values(ROOMS)) for (const { name } of allowed) add(name, '');
  return {
    version,
    licence: readFileSync(join(root, 'LICENSE'), 'utf8'),
    packages: [...found].map((path) => describePackage(root, path, packages[path]!)).toSorted(byName),
  };
}

/** As Node looks for it: beside whoever needs it first, then further out. */
function resolvePackage(
  name: string,
  from: string,
  packages: Readonly<Record<string, LockedPackage>>,
): string | undefined {
  for (let place = from; ; place = place.slice(0, Math.max(0, place.lastIndexOf(`/${MODULES}`)))) {
    const path = place === '' ? MODULES + name : `${place}/${MODULES}${name}`;
    if (path in packages) return path;
    if (place === '') return undefined;
  }
}

function describePackage(root: string, path: string, { version, license }: LockedPackage): Notice {
  const name = path.slice(path.lastIndexOf(MODULES) + MODULES.length);
  return { name, version, licence: license ?? 'see its text', text: readLicence(join(root, path)) };
}

const NAMED = [/^(licen[cs]e|copying)/i, /^readme/i] as const;

function readLicence(folder: string): string | null {
  const files = readdirSync(folder);
  const file = NAMED.map((name) => files.find((each) => name.test(each))).find((each) => each !== undefined);
  return file === undefined ? null : readFileSync(join(folder, file), 'utf8');
}

const byName = (a: Notice, b: Notice) => (a.name < b.name ? -1 : 1);
