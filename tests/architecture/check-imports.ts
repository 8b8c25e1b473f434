/** Every import against the table of rooms. Paths are relative to src, with forward slashes. */
import { isBuiltin } from 'node:module';
import { posix } from 'node:path';
import { readImports } from './read-imports.ts';
import type { Room } from '../../build/rooms.ts';

export interface Violation {
  readonly file: string;
  readonly line: number;
  readonly reason: string;
}

export interface CheckedFiles {
  readonly violations: readonly Violation[];
  /** Files seen in each room of the table. */
  readonly filesOf: ReadonlyMap<string, number>;
  /** Packages that were seen, as `room package`. */
  readonly used: ReadonlySet<string>;
}

type Rooms = Readonly<Record<string, Room>>;

/**
 * `sources`: path under src -> text; `assets`: paths of style sheets and word lists, which code may import but which
 * import nothing. A file outside every listed room is a violation itself.
 */
export function checkImports(
  sources: ReadonlyMap<string, string>,
  rooms: Rooms,
  assets: readonly string[] = [],
): CheckedFiles {
  const present = new Set([...sources.keys(), ...assets]);
  const violations: Violation[] = [];
  const filesOf = new Map(Object.keys(rooms).map((name) => [name, 0]));
  const used = new Set<string>();
  for (const [file, source] of sources) {
    const room = roomOf(file, rooms);
    if (room === undefined) {
      violations.push({ file, line: 1, reason: 'lies in no listed room' });
      continue;
    }
    filesOf.set(room, filesOf.get(room)! + 1);
    for (const { specifier, line } of readImports(file, source)) {
      const reason = judgeImport(file, room, specifier, present, rooms);
      if (reason !== undefined) violations.push({ file, line, reason });
      else if (specifier !== undefined && !isRelative(specifier)) used.add(`${room} ${packageOf(specifier)}`);
    }
  }
  return { violations, filesOf, used };
}

export function roomOf(file: string, rooms: Rooms): string | undefined {
  return Object.keys(rooms).find((name) => file.startsWith(`${name}/`));
}

/** The reason why an import is forbidden; `undefined` where it is allowed. */
function judgeImport(
  file: string,
  room: string,
  specifier: string | undefined,
  present: ReadonlySet<string>,
  rooms: Rooms,
): string | undefined {
  if (specifier === undefined) return 'imports what only run time knows';
  return isRelative(specifier)
    ? judgeRelative(file, room, specifier, present, rooms)
    : judgePackage(file, room, specifier, rooms);
}

function judgeRelative(
  file: string,
  room: string,
  specifier: string,
  present: ReadonlySet<string>,
  rooms: Rooms,
): string | undefined {
  const target = posix.join(posix.dirname(file), specifier);
  const other = roomOf(target, rooms);
  if (other === undefined) return `${specifier} lies in no listed room`;
  if (other !== room && !rooms[room]!.rooms.includes(other)) return `${room} may not import ${other}`;
  if (!present.has(target)) return `${specifier} does not exist`;
  return undefined;
}

function judgePackage(file: string, room: string, specifier: string, rooms: Rooms): string | undefined {
  if (isBuiltin(specifier) && !specifier.startsWith('node:')) return `${specifier} must be written node:${specifier}`;
  if (isBuiltin(specifier) && rooms[room]!.runtime !== 'node')
    return `${room} runs ${rooms[room]!.runtime === 'dom' ? 'in a page' : 'anywhere'} and may not import ${specifier}`;
  const name = packageOf(specifier);
  const allowed = rooms[room]!.packages.find((entry) => entry.name === name);
  if (!allowed) return `${room} may not import the package ${name}`;
  const { only } = allowed;
  if (only === undefined || file === only || file.startsWith(`${only}/`)) return undefined;
  return `only ${only} may import the package ${name}`;
}

function isRelative(specifier: string): boolean {
  return specifier.startsWith('.') || specifier.startsWith('/');
}

/** `zod/v4` is `zod`, `@scope/name/part` is `@scope/name`; built-in modules keep their whole name. */
function packageOf(specifier: string): string {
  if (specifier.startsWith('node:')) return specifier;
  return specifier.split('/', specifier.startsWith('@') ? 2 : 1).join('/');
}
