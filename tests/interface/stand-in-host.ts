/**
 * A host with made-up work, for looking at the interface by itself in every situation:
 *
 *   npm run build && npx tsx tests/interface/stand-in-host.ts [--port 4173] [--interface DIR]
 *
 * and open http://127.0.0.1:4173/?situation=rounds (see `SITUATIONS`). It answers at the addresses of the contract from
 * readings of the test images; it is no measure of the real hosts' behaviour.
 */
import { translateInvalidHouse } from '../../src/wording/refusals.ts';
import { createReadStream, existsSync } from 'node:fs';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';
import { parseArgs } from 'node:util';
import { answerChecks } from '../../src/application/pair/describe-causes.ts';
import { type Input, type ProcedureName, PROCEDURES } from '../../src/contract/procedures.ts';
import type { Workspace } from '../../src/contract/workspace.ts';
import { readHouse } from '../../src/record/house.ts';
import { translateDiagnosis } from '../../src/wording/reading.ts';
import { type Situation, SITUATIONS, type Staged, stage } from './situations.ts';
import { StandInCamera } from './stand-in-camera.ts';
import { callPolarizers, layPhotograph } from './stand-in-polarizers.ts';
import { answerLight } from './stand-in-light.ts';
import { cancelJob, exchangeShots, startMeasuring, takeShot } from './stand-in-shots.ts';
import type { PolarizerRole, ShotSlot } from '../../src/record/roles.ts';

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
  readonly camera: StandInCamera;
  /** What the page sees when the program behind it is gone: frames are not judged. */
  refuseFrames(isRefusing: boolean): void;
  readonly close: () => void;
}

/** One workspace for each situation; what the page changes (settings, house) stays until the host closes. */
export async function startStandInHost(port = 0, folder = join(ROOT, 'out/interface')): Promise<StandInHost> {
  const staged = new Map<string, Promise<Staged>>();
  /** Each is made up when it is first asked for. */
  const stagedOf = (situation: Situation) => {
    const known = staged.get(situation) ?? stage(situation);
    staged.set(situation, known);
    return known;
  };
  let current: Promise<Staged> | undefined;
  const camera = new StandInCamera();
  let isRefusing = false;
  const server = createServer((request, response) => {
    const url = new URL(request.url!, 'http://127.0.0.1');
    const asked = SITUATIONS.find((situation) => situation === url.searchParams.get('situation'));
    if (asked !== undefined) current = stagedOf(asked);
    if (isRefusing && url.pathname.startsWith('/live/')) {
      reply(response, failure('engine-stopped', 'The part of the program that measures has stopped.'));
      return;
    }
    current ??= stagedOf('measured');
    void current.then((work) => answer(request, response, url, work, folder, camera));
  });
  await listen(server, port);
  const base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  return {
    address: (situation) => `${base}/?situation=${situation}`,
    camera,
    refuseFrames: (isNow) => {
      isRefusing = isNow;
    },
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
  camera: StandInCamera,
): Promise<void> {
  const [, first, second, third] = url.pathname.split('/');
  if (first === 'events') {
    response.writeHead(200, { 'content-type': 'application/x-ndjson' });
    const send = () => response.write(`${JSON.stringify({ type: 'workspace', workspace: staged.workspace })}\n`);
    staged.listeners.add(send);
    response.on('close', () => staged.listeners.delete(send));
    send();
    return;
  }
  if (first === 'call') {
    const input: unknown = JSON.parse((await bodyOf(request)).toString('utf8'));
    reply(response, call(staged, second as ProcedureName, input, camera));
    return;
  }
  if (first === 'photographs' && second === 'shots') {
    const name = url.searchParams.get('name') ?? '';
    reply(response, await takeShot(staged, changer(staged), third as ShotSlot, name, await bodyOf(request)));
    return;
  }
  if (first === 'photographs' && second === 'polarizers') {
    const name = url.searchParams.get('name') ?? '';
    const bytes = await bodyOf(request);
    reply(response, layPhotograph(staged, changer(staged), third as PolarizerRole, name, bytes));
    return;
  }
  if (first === 'live') {
    reply(response, { ok: true, value: await camera.judge(url, await bodyOf(request), staged) });
    return;
  }
  if (first === 'photographs') return sendFile(response, staged.photographs.get(second!) ?? '', 'image/jpeg');
  const path = normalize(url.pathname === '/' ? '/index.html' : url.pathname);
  sendFile(response, join(folder, path), TYPES[extname(path)] ?? 'application/octet-stream');
}

const changer = (staged: Staged) => (to: Partial<Workspace>) => {
  staged.workspace = { ...staged.workspace, ...to, revision: staged.workspace.revision + 1 };
  for (const send of staged.listeners) send();
  return { ok: true, value: staged.workspace };
};

function call(staged: Staged, name: ProcedureName, input: unknown, camera: StandInCamera): unknown {
  const checked = PROCEDURES[name].input.safeParse(input);
  if (!checked.success) return failure('invalid-input', checked.error.message);
  const change = changer(staged);
  const data = checked.data as Record<string, never>;
  if (name === 'settings.change') return change({ settings: { ...staged.workspace.settings, ...data } });
  if (name === 'live.capture') camera.begin(data.slot, data.frames, data.name);
  if (name === 'live.stop') camera.stop();
  if (name === 'house.set') return change({ house: data.house });
  if (name === 'house.import') {
    const read = readHouse(data.json);
    if (read.outcome === 'read') return change({ house: read.house });
    return { ok: false, failure: { code: read.code, ...translateInvalidHouse(read.facts) } };
  }
  if (name === 'aspect.set') return change({ aspect: data.aspect });
  if (name === 'workspace.dismiss-notices') return change({ notices: [] });
  if (name === 'workspace.start-over') return change({ shots: [], rounds: [], jobs: [] });
  if (name === 'shots.exchange') return exchangeShots(staged, change);
  if (name === 'measure.start') return startMeasuring(staged, change);
  if (name === 'job.cancel') return cancelJob(staged, change, data.job);
  if (name === 'shot.remove') return change({ shots: staged.workspace.shots.filter(({ slot }) => slot !== data.slot) });
  if (name === 'round.note-turns') {
    const rounds = staged.workspace.rounds.map((round) =>
      round.number === data.round ? { ...round, turns_made: data.turns_made } : round,
    );
    return change({ rounds });
  }
  if (name === 'round.answer-check') {
    const { round: number, check, answer } = checked.data as Input<'round.answer-check'>;
    const rounds = staged.workspace.rounds.map((round) => {
      if (round.number !== number) return round;
      const others = (round.check_answers ?? []).filter((given) => given.check !== check);
      return { ...round, check_answers: answer === null ? others : [...others, { check, answer }] };
    });
    return change({ rounds });
  }
  if (name === 'round.update-causes') {
    const reading = staged.readings.get(data.round)!;
    const round = staged.workspace.rounds.find(({ number }) => number === data.round)!;
    const answers = (round.check_answers ?? []) as Parameters<typeof answerChecks>[2];
    const weighed = answerChecks(reading, staged.workspace.house ?? undefined, answers);
    return { ok: true, value: translateDiagnosis(reading, weighed) };
  }
  if (name.startsWith('polarizers.')) return callPolarizers(staged, change, name, data);
  if (name.startsWith('light.')) return answerLight(staged, name, checked.data, change);
  if (name === 'learned.take' || name === 'learned.forget')
    return change({ learned_until: staged.workspace.rounds.at(-1)!.number });
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

async function bodyOf(request: IncomingMessage): Promise<Buffer> {
  const parts: Buffer[] = [];
  for await (const part of request) parts.push(part as Buffer);
  return Buffer.concat(parts);
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
