/** Who imports what a file exports: names, not only files. Paths are from the project's root. */
import { posix } from 'node:path';
import { parseSync } from 'oxc-parser';
import { readImports, runtimeExports } from './read-imports.ts';

type Sources = ReadonlyMap<string, string>;

/** File -> names taken from it; `*` where it is taken whole, or by a call or a type in place. */
export function readTaken(path: string, source: string): Map<string, Set<string>> {
  const { module } = parseSync(path, source);
  const taken = new Map<string, Set<string>>();
  const take = (specifier: string, name: string) => {
    if (!specifier.startsWith('.')) return;
    const file = posix.join(posix.dirname(path), specifier);
    taken.set(file, (taken.get(file) ?? new Set()).add(name));
  };
  const listed = new Set<string>();
  for (const { moduleRequest, entries } of module.staticImports) {
    listed.add(moduleRequest.value);
    for (const { importName } of entries) take(moduleRequest.value, importName.name ?? '*');
  }
  for (const { moduleRequest, importName } of module.staticExports.flatMap(({ entries }) => entries)) {
    if (!moduleRequest) continue;
    listed.add(moduleRequest.value);
    take(moduleRequest.value, importName.name ?? '*');
  }
  for (const { moduleRequest } of module.dynamicImports)
    take(source.slice(moduleRequest.start + 1, moduleRequest.end - 1), '*');
  for (const { specifier } of readImports(path, source))
    if (specifier !== undefined && !listed.has(specifier)) take(specifier, '*');
  return taken;
}

/**
 * Values, as `file name`, that a file exports without need: another source imports them, or the file itself uses them and a
 * test tries them by themselves. What only tests use is no part of the program.
 */
export function needlessExports(sources: Sources, tests: Sources): string[] {
  const [imported, tried] = [namesTaken(sources), namesTaken(tests)];
  return [...sources].flatMap(([file, text]) => {
    const isTaken = (name: string, by: ReadonlySet<string>) => by.has(`${file} *`) || by.has(`${file} ${name}`);
    return runtimeExports(file, text)
      .filter((name) => !isTaken(name, imported) && !(isTaken(name, tried) && isUsedWithin(text, name)))
      .map((name) => `${file} ${name}`);
  });
}

function namesTaken(sources: Sources): ReadonlySet<string> {
  const taken = new Set<string>();
  for (const [path, text] of sources)
    for (const [file, names] of readTaken(path, text)) for (const name of names) taken.add(`${file} ${name}`);
  return taken;
}

/** Named again beside its declaration; what stands in comments does not count. */
function isUsedWithin(text: string, name: string): boolean {
  const code = text.replaceAll(/\/\*[\s\S]*?\*\/|(?<=^|\s)\/\/.*$/gm, '');
  return [...code.matchAll(new RegExp(`\\b${name}\\b`, 'g'))].length > 1;
}

/** Files that reach themselves through their imports, types included: one list for each knot of them. */
export function circlesOf(sources: Sources): string[][] {
  const next = new Map([...sources].map(([path, text]) => [path, [...readTaken(path, text).keys()]]));
  const reached = new Map([...next.keys()].map((file) => [file, reachedFrom(file, next)]));
  const knots = new Map<string, string[]>();
  for (const [file, others] of reached) {
    if (!others.has(file)) continue;
    const knot = [...others].filter((other) => reached.get(other)?.has(file)).toSorted();
    knots.set(knot[0]!, knot);
  }
  return [...knots.values()];
}

function reachedFrom(start: string, next: ReadonlyMap<string, readonly string[]>): Set<string> {
  const reached = new Set(next.get(start));
  for (const file of reached) for (const other of next.get(file) ?? []) reached.add(other);
  return reached;
}
