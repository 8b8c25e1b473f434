/** Writes what follows from the table of rooms: projects of the compiler, and the table in DEVELOPERS.md. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ROOMS, type Room } from './rooms.ts';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

const PAGE = 'DEVELOPERS.md';
const TABLE = /(?<=<!-- rooms:begin -->\n)[\s\S]*?(?=<!-- rooms:end -->)/;

/** Path -> what has to stand there; `page` is the text of DEVELOPERS.md, of which only the table changes. */
export function deriveFromRooms(page: string, rooms: Readonly<Record<string, Room>> = ROOMS): Map<string, string> {
  if (!TABLE.test(page)) throw new Error(`${PAGE} has no place for the table of rooms`);
  const names = Object.keys(rooms);
  return new Map([
    ...names.map((name) => [`src/${name}/tsconfig.json`, projectOf(name, rooms[name]!)] as const),
    ['tsconfig.json', project({ files: [], references: refer('.', [...inSrc(names), 'tests']) })],
    ['tests/tsconfig.json', project(projectOfTests(names))],
    [PAGE, page.replace(TABLE, () => tableOf(rooms))],
  ]);
}

function projectOf(name: string, { rooms, packages, runtime, data }: Room): string {
  const isDrawn = packages.some((one) => one.name === 'react');
  const folder = `src/${name}`;
  return project({
    extends: posix.relative(folder, `build/tsconfig.${runtime}.json`),
    include: ['**/*.ts', ...(isDrawn ? ['**/*.tsx'] : []), ...(data ? ['**/*.json'] : [])],
    references: refer(folder, inSrc(rooms)),
  });
}

const projectOfTests = (names: readonly string[]) => ({
  extends: '../build/tsconfig.node.json',
  compilerOptions: { rootDir: '..', outDir: '../out/types-tests' },
  include: ['**/*.ts', '../build/*.ts', '../electron.vite.config.ts'],
  references: refer('tests', inSrc(names)),
});

const inSrc = (names: readonly string[]): string[] => names.map((name) => `src/${name}`);

const refer = (from: string, folders: readonly string[]) =>
  folders.map((folder) => ({ path: posix.relative(from, folder) }));

/** As the formatter leaves it: lists of words on one line. */
function project(content: object): string {
  const text = JSON.stringify(content, undefined, 2);
  return `${text.replace(/\[\s+("[^\]{}]*")\s+\]/g, (_, words: string) => `[${words.replace(/\s+/g, ' ')}]`)}\n`;
}

function tableOf(rooms: Readonly<Record<string, Room>>): string {
  const rows = Object.entries(rooms).map(([name, { holds, rooms: imported, packages, runtime }]) => [
    `\`src/${name}\``,
    holds,
    list(imported.map((other) => `\`${other}\``)),
    list(packages.map((one) => `\`${one.name}\`${one.only === undefined ? '' : ` only in \`src/${one.only}\``}`)),
    runtime,
  ]);
  const head = [['room', 'holds', 'may import', 'packages', 'runtime'], Array<string>(5).fill('---')];
  return [...head, ...rows].map((cells) => `| ${cells.join(' | ')} |\n`).join('');
}

const list = (entries: readonly string[]): string => (entries.length > 0 ? entries.join(', ') : '–');

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const read = (path: string) => readFileSync(join(ROOT, path), 'utf8');
  for (const [path, text] of deriveFromRooms(read(PAGE))) writeFileSync(join(ROOT, path), text);
}
