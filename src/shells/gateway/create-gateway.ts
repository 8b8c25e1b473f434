/**
 * Answers every address of the contract and serves the interface, the same for each shell: a request of a page in, an
 * answer out. Nothing here knows how requests arrive.
 *
 * Who may ask at all is the shell's to say (its own protocol, a token); that only our own page asks is checked here.
 */
import { MAX_CALL_BYTES, MAX_PHOTOGRAPH_BYTES } from '../../contract/addresses.ts';
import { frameHeader } from '../../contract/live.ts';
import { photographPlace } from '../../contract/shots.ts';
import type { Work } from '../../workspace/work.ts';
import { answerLogbook } from './answer-logbook.ts';
import { REPORT_POLICY } from './policy.ts';
import { readBody, readPaper, viewWidth, wholeNumber } from './read-request.ts';
import { IMMUTABLE, reply, replyFailure, replyOutcome, refuseBody, refuseRequest } from './reply.ts';
import type { Event } from '../../contract/events.ts';
import { readdir, readFile } from 'node:fs/promises';
import { extname, join, relative, sep } from 'node:path';

export interface GatewayOptions {
  readonly work: Work;
  /** Folder of the built interface. Only files that lie in it now are ever served. */
  readonly interfaceFolder: string;
  /** Where the page comes from, such as `http://127.0.0.1:4173`: only its own requests may change anything. */
  readonly origin: string;
  /** Told of faults of the program; the page hears only that there was one. */
  readonly onFault?: (fault: unknown) => void;
}

export type Gateway = (request: Request) => Promise<Response>;

interface Route {
  readonly method: 'GET' | 'POST';
  /** The first part of the address, and how many come behind it. */
  readonly path: readonly [string, number];
  readonly answer: (request: Request, url: URL, parts: readonly string[]) => Promise<Response> | Response;
}

/** Throws where the interface has not been built. */
export async function createGateway({ work, interfaceFolder, origin, onFault }: GatewayOptions): Promise<Gateway> {
  const files = await listInterfaceFiles(interfaceFolder);

  const routes: readonly Route[] = [
    {
      method: 'POST',
      path: ['call', 1],
      answer: async (request, _url, [name]) => {
        if (!/^application\/json(;|$)/i.test(request.headers.get('content-type') ?? ''))
          return refuseRequest(415, 'not-json');
        const bytes = await readBody(request, MAX_CALL_BYTES);
        if (typeof bytes === 'string') return refuseBody(bytes, MAX_CALL_BYTES);
        const input = parseJson(bytes);
        return input ? replyOutcome(await work.call(name!, input.json)) : refuseRequest(400, 'not-json');
      },
    },
    {
      method: 'POST',
      path: ['photographs', 2],
      answer: async (request, url, [set, role]) => {
        const place = photographPlace.safeParse({
          set,
          role,
          ...(url.searchParams.get('repeat') === '1' && { is_repeat: true }),
        });
        if (!place.success) return refuseRequest(404, 'not-found');
        const bytes = await readBody(request, MAX_PHOTOGRAPH_BYTES);
        if (typeof bytes === 'string') return refuseBody(bytes, MAX_PHOTOGRAPH_BYTES);
        return replyOutcome(await work.addPhotograph(place.data, url.searchParams.get('name') ?? '', bytes));
      },
    },
    {
      method: 'POST',
      path: ['live', 1],
      answer: async (request, url, [what]) => {
        if (what !== 'frame') return refuseRequest(404, 'not-found');
        const header = frameHeader.safeParse(frameQuery(url));
        if (!header.success) return refuseRequest(400, 'invalid-input');
        const size = header.data.width * header.data.height;
        const luma = await readBody(request, size);
        if (typeof luma === 'string') return refuseBody(luma, size);
        return luma.length === size
          ? replyOutcome(await work.judgeFrame(header.data, luma))
          : refuseRequest(400, 'invalid-input');
      },
    },
    {
      method: 'GET',
      path: ['events', 0],
      answer: () =>
        reply(
          streamEvents((listener) => work.subscribe(listener)),
          'application/x-ndjson',
        ),
    },
    {
      method: 'GET',
      path: ['photographs', 1],
      answer: async (_request, url, [sha256]) => {
        const width = viewWidth(url);
        if (width === 'wrong') return refuseRequest(400, 'invalid-input');
        const outcome = await work.viewPhotograph(sha256!, width);
        if (!outcome.ok) return replyFailure(404, outcome.failure);
        const { bytes, type } = outcome.value;
        return reply(new Uint8Array(bytes), type, { 'cache-control': IMMUTABLE });
      },
    },
    {
      method: 'GET',
      path: ['rounds', 2],
      answer: (_request, url, [number, file]) => sendRound(work, url, number!, file),
    },
  ];

  const answer: Gateway = async (request) => {
    if (!isOurs(request, origin)) return refuseRequest(403, 'foreign-page');
    const url = new URL(request.url);
    const isHead = request.method === 'HEAD';
    const file = files.get(url.pathname);
    if (file) return isHead || request.method === 'GET' ? sendInterfaceFile(file, isHead) : wrongMethod('GET, HEAD');
    const [, first, ...parts] = url.pathname.split('/');
    if (first === 'logbook') return answerLogbook(work.logbook, request, url, parts);
    const there = routes.filter(({ path }) => path[0] === first && path[1] === parts.length);
    if (there.length === 0) return refuseRequest(404, 'not-found');
    const route = there.find(({ method }) => method === request.method);
    return route ? route.answer(request, url, parts) : wrongMethod(there.map(({ method }) => method).join(', '));
  };

  return async (request) => {
    try {
      return await answer(request);
    } catch (fault) {
      onFault?.(fault);
      return refuseRequest(500, 'fault');
    }
  };
}

/**
 * A page of another origin is told by its `Origin`, which browsers send with everything that could change something,
 * and by `Sec-Fetch-Site`, which they send with the rest as well; no page can set either.
 */
function isOurs(request: Request, origin: string): boolean {
  const from = request.headers.get('origin');
  const isReading = request.method === 'GET' || request.method === 'HEAD';
  if (from === null ? !isReading : from !== origin) return false;
  const site = request.headers.get('sec-fetch-site');
  return site === null || site === 'same-origin' || site === 'none';
}

function wrongMethod(allow: string): Response {
  return refuseRequest(405, 'wrong-method', {}, { allow });
}

function parseJson(bytes: Uint8Array): { readonly json: unknown } | undefined {
  try {
    return { json: JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes)) };
  } catch {
    return undefined;
  }
}

function frameQuery({ searchParams }: URL): Record<string, unknown> {
  const whole = (name: string) => wholeNumber(searchParams.get(name));
  return { serial: whole('serial'), width: whole('width'), height: whole('height'), range: searchParams.get('range') };
}

async function sendRound(work: Work, url: URL, number: string, file: string | undefined): Promise<Response> {
  const round = wholeNumber(number);
  if (round === undefined) return refuseRequest(404, 'not-found');
  const as = (name: string) => ({ 'content-disposition': `attachment; filename="twinplumb-round-${round}.${name}"` });
  if (file === 'report.html') {
    const outcome = await work.report(round);
    if (!outcome.ok) return replyFailure(404, outcome.failure);
    return reply(outcome.value, 'text/html; charset=utf-8', {
      ...as('html'),
      'content-security-policy': REPORT_POLICY,
    });
  }
  if (file === 'report.pdf') {
    const on = readPaper(url);
    if (on === undefined) return refuseRequest(400, 'invalid-input');
    const outcome = await work.pdf(round, on);
    return outcome.ok
      ? reply(new Uint8Array(outcome.value), 'application/pdf', as('pdf'))
      : replyFailure(404, outcome.failure);
  }
  if (file === 'reading.json') {
    const outcome = await work.readingJson(round);
    if (!outcome.ok) return replyFailure(404, outcome.failure);
    return reply(outcome.value, 'application/json', as('json'));
  }
  return refuseRequest(404, 'not-found');
}

/**
 * Events as one JSON object per line, for as long as somebody listens. A page that reads slowly hears the newest state
 * of each kind and not all that came before it, so nothing piles up.
 */
type Subscribe = (listener: (event: Event) => void) => () => void;

function streamEvents(subscribe: Subscribe): ReadableStream<Uint8Array> {
  const newest = new Map<Event['type'], Event>();
  const encoder = new TextEncoder();
  let stop = () => {};
  let wake = () => {};
  return new ReadableStream({
    start() {
      stop = subscribe((event) => {
        newest.set(event.type, event);
        wake();
      });
    },
    async pull(controller) {
      if (newest.size === 0) {
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      }
      const lines = [...newest.values()].map((event) => `${JSON.stringify(event)}\n`).join('');
      newest.clear();
      controller.enqueue(encoder.encode(lines));
    },
    cancel: () => stop(),
  });
}

/**
 * The interface's own files: an exact list of what lies in its folder when the shell starts. An address is looked up in
 * the list and never made into a path, so that no address leads out of the folder.
 */
interface InterfaceFile {
  readonly path: string;
  readonly type: string;
  readonly caching: string;
}

type InterfaceFiles = ReadonlyMap<string, InterfaceFile>;

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
async function listInterfaceFiles(folder: string): Promise<InterfaceFiles> {
  const files = new Map<string, InterfaceFile>();
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    const address = `/${relative(folder, path).split(sep).join('/')}`;
    const type = TYPES[extname(entry.name)] ?? 'application/octet-stream';
    files.set(address, { path, type, caching: address.startsWith(HASHED) ? IMMUTABLE : 'no-cache' });
  }
  const first = files.get(FIRST_PAGE);
  if (first === undefined) throw new Error(`${folder} holds no ${FIRST_PAGE.slice(1)}: the interface is not built`);
  return files.set('/', first);
}

async function sendInterfaceFile({ path, type, caching }: InterfaceFile, isHead: boolean): Promise<Response> {
  const bytes = await readFile(path);
  return reply(isHead ? null : new Uint8Array(bytes), type, {
    'cache-control': caching,
    'content-length': bytes.length,
  });
}
