/**
 * A server for browsers on this machine: it listens on 127.0.0.1 and nowhere else, answers to no other name (a page
 * that makes its own name point here is turned away), and lets in only who holds a token that was printed.
 */
import { createServer, type IncomingMessage, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { translateCommand } from '../../wording/command.ts';
import { translate } from '../../wording/translate.ts';
import type { Work } from '../../workspace/work.ts';
import { createGateway } from '../gateway/create-gateway.ts';
import { reply, refuseRequest } from '../gateway/reply.ts';
import { requestOf, sendResponse } from './http-bridge.ts';
import { CookieAuth } from './cookie-auth.ts';

export interface BrowserHostOptions {
  readonly work: Work;
  readonly interfaceFolder: string;
  /** 0: any that is free. */
  readonly port: number;
  readonly onFault?: (fault: unknown) => void;
}

export interface BrowserHost {
  readonly origin: string;
  /** An address that lets one browser in, once; addresses given before no longer do. */
  readonly issueAddress: () => string;
  readonly close: () => Promise<void>;
}

const LOOPBACK = '127.0.0.1';
const ENTRANCE = '/enter';
const METHODS: readonly string[] = ['GET', 'HEAD', 'POST'];
const MAX_ADDRESS_LENGTH = 4096;
/** An operator thinks between two clicks; a connection that is ended just then would lose the click. */
const IDLE_MS = 120_000;

/** Throws what the system says where the port cannot be had. */
export async function startBrowserHost(options: BrowserHostOptions): Promise<BrowserHost> {
  const server = createServer({ keepAliveTimeout: IDLE_MS });
  const port = await listen(server, options.port);
  const host = `${LOOPBACK}:${port}`;
  const origin = `http://${host}`;
  const auth = new CookieAuth(port);
  const gateway = await createGateway({ ...options, origin }).catch(async (fault: unknown) => {
    await closeServer(server);
    throw fault;
  });

  const answer = async (incoming: IncomingMessage): Promise<Response> => {
    const names = incoming.headersDistinct.host ?? [];
    if (names.length !== 1 || names[0] !== host) return refuseRequest(421, 'foreign-page');
    if (!METHODS.includes(incoming.method!))
      return refuseRequest(405, 'wrong-method', {}, { allow: METHODS.join(', ') });
    if (!incoming.url!.startsWith('/') || incoming.url!.length > MAX_ADDRESS_LENGTH)
      return refuseRequest(400, 'not-found');
    const request = requestOf(incoming, origin);
    const url = new URL(request.url);
    const isAdmitted = auth.isAdmitted(request.headers.get('cookie'));
    if (url.pathname === ENTRANCE) return enter(request, url, auth, isAdmitted);
    if (isAdmitted) return gateway(request);
    const isShown = request.method !== 'POST' && (request.headers.get('accept') ?? '').includes('text/html');
    return isShown ? showEntrance() : refuseRequest(403, 'not-entered');
  };

  server.on('request', async (incoming, outgoing) => {
    try {
      await sendResponse(await answer(incoming), incoming, outgoing);
    } catch (fault) {
      if (!outgoing.destroyed) options.onFault?.(fault);
      outgoing.destroy();
    }
  });
  server.on('clientError', (_error, socket) => socket.destroy());
  server.on('connect', (_request, socket) => socket.destroy());
  server.on('upgrade', (_request, socket) => socket.destroy());

  return {
    origin,
    issueAddress: () => `${origin}${ENTRANCE}?token=${auth.issueToken()}`,
    close: () => closeServer(server),
  };
}

/** What a browser fetches before anybody asked for it must not use the token up. */
function enter(request: Request, url: URL, auth: CookieAuth, isAdmitted: boolean): Response {
  if (request.method !== 'GET') return refuseRequest(405, 'wrong-method', {}, { allow: 'GET' });
  if (request.headers.has('origin')) return refuseRequest(403, 'foreign-page');
  const isPrefetch = /prefetch|prerender/.test(
    request.headers.get('sec-purpose') ?? request.headers.get('purpose') ?? '',
  );
  const cookie = isPrefetch ? undefined : auth.redeem(url.searchParams.get('token'));
  if (cookie === undefined && !isAdmitted) return showEntrance();
  return reply(null, 'text/plain', {
    status: 303,
    location: '/',
    ...(cookie === undefined ? {} : { 'set-cookie': cookie }),
  });
}

function listen(server: Server, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, LOOPBACK, () => {
      server.off('error', reject);
      resolve((server.address() as AddressInfo).port);
    });
  });
}

function closeServer(server: Server): Promise<void> {
  return new Promise((resolve) => {
    server.close(() => resolve());
    server.closeAllConnections();
  });
}

/** What a browser sees that has not been let in. */
function showEntrance(): Response {
  const page = `<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${translate('frame.name')}</title></head>
<body>
<h1>${translateCommand('host-entrance')}</h1>
<p>${translateCommand('host-entrance-why')}</p>
<p>${translateCommand('host-entrance-how')}</p>
</body>
</html>
`;
  return reply(page, 'text/html; charset=utf-8', { status: 403 });
}
