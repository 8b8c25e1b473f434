/** Between the requests of Node's server and those of the web, both ways, without keeping a body whole. */
import type { IncomingMessage, ServerResponse } from 'node:http';

/** Bytes that may wait between the socket and whoever reads. */
const WAITING_BYTES = 2 ** 20;

export function requestOf(incoming: IncomingMessage, origin: string): Request {
  const headers = new Headers();
  for (const [name, values] of Object.entries(incoming.headersDistinct)) {
    for (const value of values ?? []) headers.append(name, value);
  }
  const method = incoming.method!;
  const hasBody = method !== 'GET' && method !== 'HEAD';
  // Joined as text: as a relative address, one that begins with two slashes would name another host.
  return new Request(`${origin}${incoming.url}`, {
    method,
    headers,
    ...(hasBody ? { body: bodyOf(incoming), duplex: 'half' } : {}),
  } as RequestInit);
}

/** Not `Readable.toWeb`: its cancelling would cut the connection on which the refusal still has to be sent. */
function bodyOf(incoming: IncomingMessage): ReadableStream<Uint8Array> {
  const stop = () => {
    incoming.removeAllListeners('data');
    incoming.pause();
  };
  return new ReadableStream<Uint8Array>(
    {
      start(controller) {
        incoming.on('data', (chunk: Buffer) => {
          controller.enqueue(chunk);
          if ((controller.desiredSize ?? 0) <= 0) incoming.pause();
        });
        incoming.once('end', () => closeQuietly(controller));
        incoming.once('close', () => {
          if (!incoming.complete) failQuietly(controller);
        });
        incoming.once('error', () => failQuietly(controller));
        incoming.pause();
      },
      pull: () => {
        incoming.resume();
      },
      cancel: stop,
    },
    new ByteLengthQueuingStrategy({ highWaterMark: WAITING_BYTES }),
  );
}

/** A stream that was cancelled can be neither closed nor failed any more. */
function closeQuietly(controller: ReadableStreamDefaultController): void {
  try {
    controller.close();
  } catch {
    // Nobody reads it any more.
  }
}

function failQuietly(controller: ReadableStreamDefaultController): void {
  try {
    controller.error(new Error('the connection ended in the middle of the request'));
  } catch {
    // Nobody reads it any more.
  }
}

export async function sendResponse(
  response: Response,
  incoming: IncomingMessage,
  outgoing: ServerResponse,
): Promise<void> {
  const isCutShort = !incoming.complete;
  outgoing.writeHead(response.status, {
    ...Object.fromEntries(response.headers),
    ...(isCutShort ? { connection: 'close' } : {}),
  });
  if (response.body) await pour(response.body, outgoing);
  outgoing.end();
  if (isCutShort) lingerOver(incoming);
}

async function pour(body: ReadableStream<Uint8Array>, outgoing: ServerResponse): Promise<void> {
  const reader = body.getReader();
  const closed = new Promise<void>((resolve) => {
    outgoing.once('close', resolve);
  });
  void closed.then(() => reader.cancel().catch(() => undefined));
  for (;;) {
    const { done, value } = await reader.read();
    if (done || outgoing.destroyed) return;
    if (outgoing.write(value)) continue;
    await Promise.race([closed, new Promise((resolve) => outgoing.once('drain', resolve))]);
  }
}

/** How long the rest of a refused body is thrown away, so that the refusal arrives before the connection ends. */
const LINGER_MS = 3000;

function lingerOver(incoming: IncomingMessage): void {
  incoming.removeAllListeners('data');
  incoming.resume();
  const timer = setTimeout(() => incoming.socket.destroy(), LINGER_MS);
  incoming.once('close', () => clearTimeout(timer));
}
