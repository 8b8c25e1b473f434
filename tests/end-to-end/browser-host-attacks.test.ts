/** The built browser host against whoever else is on the machine, on the network, or in another tab. */
import { connect } from 'node:net';
import { networkInterfaces } from 'node:os';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MAX_CALL_BYTES, MAX_PHOTOGRAPH_BYTES } from '../../src/contract/addresses.ts';
import { jpeg } from '../workspace/jpeg.ts';
import { LetIn, removeFolder, type RunningHost, startHost, valueIn } from './run-browser-host.ts';

let host: RunningHost;
let letIn: LetIn;
beforeAll(async () => {
  host = await startHost();
  letIn = await LetIn.by(host);
});
afterAll(async () => {
  expect(await host.stop()).toBe(0);
  expect(host.remarks()).toBe(`Twinplumb has ended; the work is kept in ${host.folder}\n`);
  removeFolder(host);
});

/** Bytes as they are sent, whatever a well-behaved client would make of them; all that comes back, or for so long. */
function sendRaw(text: string, patience_ms = 90_000): Promise<string> {
  return new Promise((resolve, reject) => {
    const socket = connect(host.port, '127.0.0.1', () => socket.write(text, 'latin1'));
    let answer = '';
    socket.setEncoding('latin1');
    socket.setTimeout(patience_ms, () => socket.destroy());
    socket.on('data', (part) => {
      answer += part;
    });
    socket.on('close', () => resolve(answer));
    socket.on('error', (error: NodeJS.ErrnoException) =>
      error.code === 'ECONNRESET' || error.code === 'EPIPE' ? resolve(answer) : reject(error),
    );
  });
}

const request = (line: string, headers: Record<string, string> = {}) => {
  const all = { host: `127.0.0.1:${host.port}`, cookie: letIn.cookie, connection: 'close', ...headers };
  return `${line}\r\n${Object.entries(all)
    .map(([name, value]) => `${name}: ${value}\r\n`)
    .join('')}\r\n`;
};
const statusOf = (answer: string) => Number(/^HTTP\/1\.1 (\d{3})/.exec(answer)?.[1]);

/** Nothing of the work, nothing of the interface. */
const expectNothing = (answer: string) => {
  expect(answer).not.toMatch(/"revision"|"ok":true|<script|root:/);
  expect(answer.toLowerCase()).not.toContain('access-control-allow');
};

describe('the token', () => {
  const enter = (token: string, headers: Record<string, string> = {}) =>
    fetch(`${host.origin}/enter${token}`, { redirect: 'manual', headers });

  it('has 256 random bits and lets in once', async () => {
    const { searchParams } = new URL(host.address);
    expect(Buffer.from(searchParams.get('token')!, 'base64url')).toHaveLength(32);
    const again = await fetch(host.address, { redirect: 'manual' });
    expect([again.status, again.headers.get('set-cookie')]).toEqual([403, null]);
    expect(await again.text()).toContain('Each address works once');
  });

  it('brings a cookie that no script reads and no other site sends', async () => {
    const other = await startHost();
    const entered = await fetch(other.address, { redirect: 'manual' });
    expect([entered.status, entered.headers.get('location')]).toEqual([303, '/']);
    expect(entered.headers.get('set-cookie')).toMatch(
      new RegExp(`^twinplumb-${other.port}=[\\w-]{43}; HttpOnly; SameSite=Strict; Path=/$`),
    );
    expect(entered.headers.get('referrer-policy')).toBe('no-referrer');
    expect(entered.headers.get('cache-control')).toBe('no-store');
    // The cookie of one host opens no other.
    const cookie = entered.headers.get('set-cookie')!.split(';')[0]!;
    for (const given of [cookie, cookie.replace(String(other.port), String(host.port))]) {
      expect((await fetch(`${host.origin}/events`, { headers: { cookie: given } })).status).toBe(403);
    }
    await other.stop();
    removeFolder(other);
  });

  it.each(['', '?token=', '?token=x', `?token=${'A'.repeat(43)}`, `?token=${'A'.repeat(3000)}`, '?other=1'])(
    'that is wrong lets nobody in: %s',
    async (token) => {
      const response = await enter(token);
      expect([response.status, response.headers.get('set-cookie')]).toEqual([403, null]);
    },
  );

  it('is not used up by a browser that only looks ahead, nor by another page', async () => {
    const other = await startHost();
    const ahead = await fetch(other.address, { redirect: 'manual', headers: { 'sec-purpose': 'prefetch' } });
    expect(ahead.status).toBe(403);
    expect((await fetch(other.address, { method: 'HEAD', redirect: 'manual' })).status).toBe(405);
    const foreign = await fetch(other.address, { redirect: 'manual', headers: { origin: 'http://evil.example' } });
    expect(foreign.status).toBe(403);
    expect((await fetch(other.address, { redirect: 'manual' })).status).toBe(303);
    await other.stop();
    removeFolder(other);
  });
});

describe('without the cookie', () => {
  it.each(['/', '/index.html', '/events', '/rounds/1/reading.json', `/photographs/${'ab'.repeat(32)}`, '/nothing'])(
    'nothing is at %s',
    async (path) => {
      const response = await fetch(`${host.origin}${path}`);
      expect(response.status).toBe(403);
      expectNothing(await response.text());
    },
  );

  it('a person is told how to get in, and a program that it is out', async () => {
    const page = await fetch(`${host.origin}/`, { headers: { accept: 'text/html' } });
    expect([page.status, page.headers.get('content-type')]).toEqual([403, 'text/html; charset=utf-8']);
    expect(await page.text()).toContain('start Twinplumb again');
    const call = await fetch(`${host.origin}/call/workspace.read`, { method: 'POST', body: '{}' });
    expect(await call.json()).toMatchObject({ ok: false, failure: { code: 'not-entered' } });
  });

  it.each(['', 'x=y', 'twinplumb=1', `twinplumb-0=${'A'.repeat(43)}`])('%j is none', async (cookie) => {
    expect((await fetch(`${host.origin}/events`, { headers: { cookie } })).status).toBe(403);
  });
});

describe('another name or another page', () => {
  it.each([
    ['a name that was made to point here', 'evil.example'],
    ['the same with our port', `evil.example:PORT`],
    ['another name of this machine', 'localhost:PORT'],
    ['no port', '127.0.0.1'],
    ['another port', '127.0.0.1:1'],
    ['more behind it', '127.0.0.1:PORT.evil.example'],
    ['a user before it', 'x@127.0.0.1:PORT'],
    ['another notation', '2130706433:PORT'],
    ['nothing', ''],
  ])('as Host is turned away, with the right cookie even: %s', async (_what, name) => {
    const answer = await sendRaw(request('GET / HTTP/1.1', { host: name.replace('PORT', String(host.port)) }));
    expect([400, 421]).toContain(statusOf(answer));
    expectNothing(answer);
  });

  it('two Hosts, or none, are turned away', async () => {
    const twice = request('GET / HTTP/1.1').replace('\r\n', `\r\nhost: evil.example\r\n`);
    const none = `GET / HTTP/1.1\r\ncookie: ${letIn.cookie}\r\nconnection: close\r\n\r\n`;
    for (const text of [twice, none, none.replace('1.1', '1.0')]) {
      const answer = await sendRaw(text);
      expect([400, 421]).toContain(statusOf(answer));
      expectNothing(answer);
    }
  });

  it.each(['http://evil.example', 'null', 'http://localhost:PORT', 'https://127.0.0.1:PORT', 'http://127.0.0.1:1'])(
    'as Origin may neither change nor read anything: %s',
    async (name) => {
      const origin = name.replace('PORT', String(host.port));
      const called = await letIn.post('/call/workspace.read', '{}', { origin, 'content-type': 'application/json' });
      expect(called.status).toBe(403);
      expectNothing(await called.text());
      const read = await letIn.get('/events', { origin });
      expect(read.status).toBe(403);
      expect(read.headers.get('access-control-allow-origin')).toBeNull();
      await read.body?.cancel();
    },
  );

  it('without an Origin, or from a neighbouring port, nothing is changed', async () => {
    const { cookie } = letIn;
    const without = await fetch(`${host.origin}/call/workspace.read`, {
      method: 'POST',
      body: '{}',
      headers: { cookie, 'content-type': 'application/json' },
    });
    expect(without.status).toBe(403);
    expect((await letIn.get('/', { 'sec-fetch-site': 'same-site' })).status).toBe(403);
  });

  it('asks in vain whether it might', async () => {
    const headers = { origin: 'http://evil.example', 'access-control-request-method': 'POST' };
    const response = await fetch(`${host.origin}/call/workspace.read`, { method: 'OPTIONS', headers });
    expect(response.status).toBe(405);
    expect(response.headers.get('access-control-allow-origin')).toBeNull();
  });
});

describe('paths', () => {
  it.each([
    '/../../../../etc/passwd',
    '/..%2f..%2f..%2f..%2fetc%2fpasswd',
    '/%2e%2e/%2e%2e/package.json',
    '/assets/../../package.json',
    '/assets/..%5c..%5cpackage.json',
    '/....//....//etc/passwd',
    '//etc/passwd',
    '//evil.example/',
    '/\\..\\..\\etc\\passwd',
    '/index.html/..%00',
    '/photographs/..%2fworkspace.json',
    '/photographs/../workspace.json',
    '/rounds/..%2f..%2fworkspace/reading.json',
    '/readings/1.json',
    '/workspace.json',
  ])('lead nowhere: %s', async (path) => {
    const answer = await sendRaw(request(`GET ${path} HTTP/1.1`));
    expect([400, 404]).toContain(statusOf(answer));
    expectNothing(answer);
  });

  it.each(['http://evil.example/', `http://127.0.0.1/`, '*', 'evil.example:80'])(
    'in other forms are none: %s',
    async (target) => {
      const answer = await sendRaw(request(`GET ${target} HTTP/1.1`));
      expect(statusOf(answer) === 400 || answer === '').toBe(true);
      expectNothing(answer);
    },
  );

  it('of any length do no harm', async () => {
    for (const length of [5000, 100_000]) {
      const answer = await sendRaw(request(`GET /${'a'.repeat(length)} HTTP/1.1`));
      expect([0, 400, 404, 414, 431]).toContain(statusOf(answer) || 0);
    }
    expect((await letIn.get('/')).status).toBe(200);
  });
});

describe('methods', () => {
  it.each(['PUT', 'DELETE', 'PATCH', 'TRACE', 'OPTIONS', 'PROPFIND'])('%s is not answered', async (method) => {
    const answer = await sendRaw(request(`${method} /call/workspace.read HTTP/1.1`, { origin: host.origin }));
    expect(statusOf(answer)).toBe(405);
    expectNothing(answer);
  });

  it('CONNECT and an upgrade end the connection', async () => {
    expect(await sendRaw(request('CONNECT 127.0.0.1:22 HTTP/1.1'))).toBe('');
    const upgrade = request('GET /events HTTP/1.1', { connection: 'Upgrade', upgrade: 'websocket' });
    expect(await sendRaw(upgrade)).toBe('');
  });

  it('GET changes nothing', async () => {
    expect((await letIn.get('/call/workspace.start-over')).status).toBe(405);
    expect((await letIn.get('/photographs/shots/left-lens?name=x')).status).toBe(405);
  });
});

describe('bodies', () => {
  it('that announce too much are refused before they are sent', async () => {
    for (const [path, most] of [
      ['/call/workspace.read', MAX_CALL_BYTES],
      ['/photographs/shots/left-lens?name=x.jpg', MAX_PHOTOGRAPH_BYTES],
    ] as const) {
      const headers = { origin: host.origin, 'content-type': 'application/json', 'content-length': String(most + 1) };
      const answer = await sendRaw(request(`POST ${path} HTTP/1.1`, headers));
      expect(statusOf(answer)).toBe(413);
      expect(answer).toContain('"code":"body-too-large"');
      expectNothing(answer);
    }
  });

  it('that grow too large are refused on the way, and the host’s memory does not grow with them', async () => {
    let sent = 0;
    const body = new ReadableStream<Uint8Array>({
      pull: (controller) => {
        sent += 1;
        if (sent > 2000) controller.close();
        else controller.enqueue(new Uint8Array(2 ** 18));
      },
    });
    const refused = await fetch(`${host.origin}/call/workspace.read`, {
      method: 'POST',
      body,
      duplex: 'half',
      headers: { cookie: letIn.cookie, origin: host.origin, 'content-type': 'application/json' },
    } as RequestInit).then(
      ({ status }) => status,
      () => 'cut off',
    );
    expect([413, 'cut off']).toContain(refused);
    expect((await letIn.call('workspace.read')).shots).toEqual([]);
  });

  it('that never come, or end in the middle, do no harm', async () => {
    const headers = { origin: host.origin, 'content-type': 'application/json', 'content-length': '1000' };
    const answer = await sendRaw(`${request('POST /call/workspace.read HTTP/1.1', headers)}{"a":`, 1500);
    expect(statusOf(answer) || 0).not.toBe(200);
    expect((await letIn.get('/')).status).toBe(200);
  });

  it('with two lengths or a false coding are not read', async () => {
    const twice = request('POST /call/workspace.read HTTP/1.1', { origin: host.origin, 'content-length': '2' }).replace(
      '\r\n\r\n',
      '\r\nContent-Length: 5\r\n\r\n{}',
    );
    const both = request('POST /call/workspace.read HTTP/1.1', {
      origin: host.origin,
      'content-length': '2',
      'transfer-encoding': 'chunked',
    });
    for (const text of [twice, both]) expectNothing(await sendRaw(text));
  });
});

describe('names of photographs', () => {
  it('enter no header and no path', async () => {
    const name = '../../a\r\nSet-Cookie: stolen=1\r\n\r\n<script>alert(1)</script>.jpg';
    const response = await letIn.post(`/photographs/shots/bare?name=${encodeURIComponent(name)}`, jpeg('x'));
    expect(response.headers.get('set-cookie')).toBeNull();
    const { shots } = await valueIn<{ shots: { name: string }[] }>(response);
    // As text it is harmless; a page shows it as text.
    expect(shots.map((shot) => shot.name)).toEqual(['script>.jpg']);
    await letIn.call('shot.remove', { slot: 'bare' });
  });
});

describe('the port', () => {
  const others = Object.values(networkInterfaces())
    .flat()
    .flatMap((entry) => (entry && !entry.internal ? [entry.address] : []));

  it.each([...others, '127.0.0.2', '::1'])('is closed at %s', async (address) => {
    const connected = await new Promise<boolean>((resolve) => {
      const socket = connect({ host: address, port: host.port, timeout: 2000 }, () => resolve(true));
      socket.on('error', () => resolve(false));
      socket.on('timeout', () => resolve(false));
      socket.on('connect', () => socket.destroy());
    });
    expect(connected).toBe(false);
  });

  it('is open at 127.0.0.1, or this test would see nothing', async () => {
    expect((await letIn.get('/')).status).toBe(200);
  });
});

it('everything above left the host as it was', async () => {
  const page = await letIn.get('/');
  expect(page.headers.get('content-security-policy')).toContain("default-src 'none'");
  expect(await letIn.call('workspace.read')).toMatchObject({ shots: [], rounds: [], notices: [] });
});
