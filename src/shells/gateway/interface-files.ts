/**
 * The interface's own files: an exact list of what lies in its folder when the shell starts. An address is looked up in
 * the list and never made into a path, so that no address leads out of the folder.
 */
import { readdir, readFile } from 'node:fs/promises';
import { extname, join, relative, sep } from 'node:path';
import { FOR_EVER, reply } from './reply.ts';

export interface InterfaceFile {
  readonly path: string;
  readonly type: string;
  readonly caching: string;
}

export type InterfaceFiles = ReadonlyMap<string, InterfaceFile>;

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.map': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.jpg': 'image/jpeg',
  '.ico': 'image/x-icon',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
  '.mp3': 'audio/mpeg',
  '.wav': 'audio/wav',
};

/** The build gives the files below here names with their hash. */
const HASHED = '/assets/';
const FIRST_PAGE = '/index.html';

/** Address -> file. Throws where the folder holds no first page: the interface has not been built. */
export async function listInterfaceFiles(folder: string): Promise<InterfaceFiles> {
  const files = new Map<string, InterfaceFile>();
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    const address = `/${relative(folder, path).split(sep).join('/')}`;
    const type = TYPES[extname(entry.name)] ?? 'application/octet-stream';
    files.set(address, { path, type, caching: address.startsWith(HASHED) ? FOR_EVER : 'no-cache' });
  }
  const first = files.get(FIRST_PAGE);
  if (first === undefined) throw new Error(`${folder} holds no ${FIRST_PAGE.slice(1)}: the interface is not built`);
  return files.set('/', first);
}

export async function sendInterfaceFile({ path, type, caching }: InterfaceFile, isHead: boolean): Promise<Response> {
  const bytes = await readFile(path);
  return reply(isHead ? null : new Uint8Array(bytes), type, {
    'cache-control': caching,
    'content-length': bytes.length,
  });
}
