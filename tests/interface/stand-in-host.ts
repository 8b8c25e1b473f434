/**
 * A host with made-up work, for looking at the interface by itself in every situation:
 *
 *   npm run build && npx tsx tests/interface/stand-in-host.ts [--port 4173] [--interface DIR]
 *
 * and open http://127.0.0.1:4173/?situation=rounds (see `SITUATIONS`). It answers at the addresses of the contract from
 * readings of the test images; it is no measure of the real hosts' behaviour.
 */
import { createReadStream, existsSync } from 'node:fs';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';
import { parseArgs } from 'node:util';
import { type ProcedureName, PROCEDURES } from '../../src/contract/procedures.ts';
import type { Workspace } from '../../src/contract/workspace.ts';
import { type Situation, SITUATIONS, type Staged, stage } from './situations.ts';

const ROOT = join(import.meta.dirname, '..', '..');
const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.json': 'application/json',
  '.map': 'application/json',
};

export interface StandInHost {
  readonly address: (situation: Situation) => string;
  readonly close: () => void;
}

/** One workspace for each situation; what the page changes (settings, house) stays until the host closes. */
export async function startStandInHost(port = 0, folder = join(ROOT, 'out/interface')): Promise<StandInHost> {
  const staged = new Map<Situation, Staged>();
  for (const situation of SITUATIONS) staged.set(situation, await stage(situation));
  let current: Staged = staged.get('rounds')!;
  const server = createServer((request, response) => {
    const url = new URL(request.url!, 'http://127.0.0.1');
    const asked = url.searchParams.get('situation') as Situation | null;
    if (asked !== null && staged.has(asked)) current = staged.get(asked)!;
    void answer(request, response, url, current, folder);
  });
  await listen(server, port);
  const base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  return {
    address: (situation) => `${base}/?situation=${situation}`,
    close: () => {
      server.closeAllConnections();
      server.close();
    },
  };
}

const listen = (server: Server, port: number) =>
  new Promise<void>((resolve) => {
    server.listen(port, '127.0.0.1', resolve);
  });

async function answer(
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
  staged: Staged,
  folder: string,
): Promise<void> {
  const [, first, second] = url.pathname.split('/');
  if (first === 'events') {
    response.writeHead(200, { 'content-type': 'application/x-ndjson' });
    const send = () => response.write(`${JSON.stringify({ type: 'workspace', workspace: staged.workspace })}\n`);
    staged.listeners.add(send);
    response.on('close', () => staged.listeners.delete(send));
    send();
    return;
  }
  if (first === 'call') {
    const input: unknown = JSON.parse(await bodyOf(request));
    reply(response, call(staged, second as ProcedureName, input));
    return;
  }
  if (first === 'photographs') return sendFile(response, staged.photographs.get(second!) ?? '', 'image/jpeg');
  const path = normalize(url.pathname === '/' ? '/index.html' : url.pathname);
  sendFile(response, join(folder, path), TYPES[extname(path)] ?? 'application/octet-stream');
}

function call(staged: Staged, name: ProcedureName, input: unknown): unknown {
  const checked = PROCEDURES[name].input.safeParse(input);
  if (!checked.success) return failure('invalid-input', checked.error.message);
  const change = (to: Partial<Workspace>) => {
    staged.workspace = { ...staged.workspace, ...to, revision: staged.workspace.revision + 1 };
    for (const send of staged.listeners) send();
    return { ok: true, value: staged.workspace };
  };
  const data = checked.data as Record<string, never>;
  if (name === 'settings.change') return change({ settings: { ...staged.workspace.settings, ...data } });
  if (name === 'house.set') return change({ house: data.house });
  if (name === 'shot.remove') return change({ shots: staged.workspace.shots.filter(({ slot }) => slot !== data.slot) });
  if (name === 'round.note-turns') {
    const rounds = staged.workspace.rounds.map((round) =>
      round.number === data.round ? { ...round, turns_made: data.turns_made } : round,
    );
    return change({ rounds });
  }
  if (name === 'round.read') {
    const reading = staged.readings.get(data.round);
    return reading ? { ok: true, value: reading } : failure('no-such-round', 'There is no such round.');
  }
  return { ok: true, value: staged.workspace };
}

const failure = (code: string, message: string) => ({
  ok: false,
  failure: { code, message, remedy: 'Nothing; this host is a stand-in.' },
});

async function bodyOf(request: IncomingMessage): Promise<string> {
  const parts: Buffer[] = [];
  for await (const part of request) parts.push(part as Buffer);
  return Buffer.concat(parts).toString('utf8');
}

function reply(response: ServerResponse, value: unknown): void {
  response.writeHead(200, { 'content-type': 'application/json' });
  response.end(JSON.stringify(value));
}

function sendFile(response: ServerResponse, path: string, type: string): void {
  if (!existsSync(path)) {
    response.writeHead(404).end();
    return;
  }
  response.writeHead(200, { 'content-type': type });
  createReadStream(path).pipe(response);
}

if (process.argv[1] === import.meta.filename) {
  const { values } = parseArgs({
    options: { port: { type: 'string', default: '4173' }, interface: { type: 'string' } },
  });
  const host = await startStandInHost(Number(values.port), values.interface);
  for (const situation of SITUATIONS) process.stdout.write(`${host.address(situation)}\n`);
}
