import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { ADDRESSES, MAX_CALL_BYTES, MAX_PHOTOGRAPH_BYTES } from '../../../src/contract/addresses.ts';
import { createGateway, type Gateway } from '../../../src/shells/gateway/create-gateway.ts';
import { CONTENT_POLICY, POLICY_HEADERS } from '../../../src/shells/gateway/policy.ts';
import { EMPTY, SHA256, StandInWork } from './stand-in-work.ts';

const ORIGIN = 'http://127.0.0.1:4999';

let folder: string;
let work: StandInWork;
let gateway: Gateway;
const faults: unknown[] = [];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'gateway-'));
  await mkdir(join(folder, 'inside', 'assets'), { recursive: true });
  await writeFile(join(folder, 'secret.txt'), 'secret');
  await writeFile(join(folder, 'inside', 'index.html'), '<!doctype html><title>x</title>');
  await writeFile(join(folder, 'inside', 'assets', 'page-1a2b.js'), 'export {};');
});
afterAll(() => rm(folder, { recursive: true }));
beforeEach(async () => {
  work = new StandInWork();
  faults.length = 0;
  gateway = await createGateway({
    work,
    interfaceFolder: join(folder, 'inside'),
    origin: ORIGIN,
    onFault: (fault) => faults.push(fault),
  });
});

const get = (path: string, init: RequestInit = {}) => gateway(new Request(`${ORIGIN}${path}`, init));
const post = (path: string, body: RequestInit['body'], headers: Record<string, string> = {}) =>
  get(path, { method: 'POST', body, headers: { origin: ORIGIN, ...headers }, duplex: 'half' } as RequestInit);
const call = (name: string, body: string, headers = {}) =>
  post(`/call/${name}`, body, { 'content-type': 'application/json', ...headers });
const codeOf = async (response: Response) => ((await response.json()) as { failure: { code: string } }).failure.code;

describe('files of the interface', () => {
  it('are sent with their type; named by hash they are kept for ever', async () => {
    const page = await get('/');
    expect([page.status, page.headers.get('content-type')]).toEqual([200, 'text/html; charset=utf-8']);
    expect(page.headers.get('cache-control')).toBe('no-cache');
    expect(await page.text()).toContain('<title>');
    const script = await get('/assets/page-1a2b.js');
    expect(script.headers.get('content-type')).toBe('text/javascript; charset=utf-8');
    expect(script.headers.get('cache-control')).toContain('immutable');
    const head = await get('/index.html', { method: 'HEAD' });
    expect([head.status, head.headers.get('content-length'), await head.text()]).toEqual([200, '31', '']);
  });

  it.each([
    '/secret.txt',
    '/../secret.txt',
    '/%2e%2e/secret.txt',
    '/assets/..%2f..%2fsecret.txt',
    '/assets/..%5c..%5csecret.txt',
    '/assets',
    '/assets/',
    '//127.0.0.1/secret.txt',
    '/index.html%00.js',
    '/constructor',
    '/__proto__/x',
  ])('%s is not among them', async (path) => {
    const response = await get(path);
    expect(response.status).toBe(404);
    expect(await codeOf(response)).toBe('not-found');
  });

  it('cannot be served before they are built', async () => {
    await expect(createGateway({ work, interfaceFolder: folder, origin: ORIGIN })).rejects.toThrow('not built');
  });
});

describe('every answer carries the policy', () => {
  it.each([
    ['a page', () => get('/')],
    ['nothing at all', () => get('/nothing')],
    ['an outcome', () => call('workspace.read', '{}')],
    ['a photograph', () => get(`/photographs/${SHA256}`)],
    ['a page turned away', () => get('/', { headers: { origin: 'http://evil.example' } })],
    ['a fault', () => call('measure.start', '{}')],
  ])('%s', async (_what, ask) => {
    const { headers } = await ask();
    for (const [name, value] of Object.entries(POLICY_HEADERS)) expect(headers.get(name)).toBe(value);
    expect(headers.get('access-control-allow-origin')).toBeNull();
  });

  it('and the policy allows no script but our own, nowhere to send anything and nobody to frame us', () => {
    expect(CONTENT_POLICY).toContain("default-src 'none'; script-src 'self'; style-src 'self';");
    expect(CONTENT_POLICY).not.toMatch(/unsafe|\*|https?:/);
    for (const closed of ['form-action', 'base-uri', 'frame-ancestors']) {
      expect(CONTENT_POLICY).toContain(`${closed} 'none'`);
    }
  });

  it('lets a report have its own style, but no script and no origin', async () => {
    const report = await get(ADDRESSES.report(1));
    expect(report.headers.get('content-security-policy')).toMatch(/^default-src 'none';.*sandbox$/);
    expect(report.headers.get('content-disposition')).toBe('attachment; filename="twinplumb-round-1.html"');
    expect(await report.text()).toBe('<!doctype html>');
  });
});

describe('only our own page', () => {
  it.each([
    ['without an origin', { origin: '' }],
    ['from another page', { origin: 'http://evil.example' }],
    ['from another port', { origin: 'http://127.0.0.1:5000' }],
    ['from a page without origin', { origin: 'null' }],
    ['from an origin that begins like ours', { origin: `${ORIGIN}.evil.example` }],
    ['from another site', { 'sec-fetch-site': 'cross-site' }],
    ['from a neighbour', { 'sec-fetch-site': 'same-site' }],
  ])('changes anything: not %s', async (_who, headers) => {
    const response = await call('workspace.read', '{}', headers);
    expect(response.status).toBe(403);
    expect(await codeOf(response)).toBe('foreign-page');
    expect(work.asked).toEqual([]);
  });

  it('reads anything', async () => {
    expect((await get('/events', { headers: { origin: 'http://evil.example' } })).status).toBe(403);
    expect((await get('/events', { headers: { 'sec-fetch-site': 'cross-site' } })).status).toBe(403);
    expect((await get('/', { headers: { 'sec-fetch-site': 'none' } })).status).toBe(200);
  });
});

describe('calls', () => {
  it('reach the work as they were sent and bring its outcome back', async () => {
    const response = await call('workspace.read', '{}');
    expect(await response.json()).toEqual({ ok: true, value: EMPTY });
    expect(response.headers.get('cache-control')).toBe('no-store');
    expect(work.asked).toEqual([['call', 'workspace.read', {}]]);
    const refused = await call('no.such', '[1]');
    expect([refused.status, await codeOf(refused)]).toEqual([200, 'unknown-procedure']);
  });

  it('that are no JSON are turned away', async () => {
    for (const body of ['{', '', '\xff']) expect((await call('workspace.read', body)).status).toBe(400);
    expect((await call('workspace.read', '{}', { 'content-type': 'text/plain' })).status).toBe(415);
    expect(work.asked).toEqual([]);
  });

  it('with a fault behind them say so and tell the shell', async () => {
    const response = await call('measure.start', '{}');
    expect([response.status, await codeOf(response)]).toEqual([500, 'fault']);
    expect(faults).toEqual([new Error('a planted fault')]);
  });
});

describe('bodies', () => {
  const endless = () => {
    let pulled = 0;
    const body = new ReadableStream<Uint8Array>({
      pull: (controller) => {
        pulled += 1;
        controller.enqueue(new Uint8Array(2 ** 18));
      },
    });
    return { body, pulled: () => pulled };
  };

  it('that announce too much are not read', async () => {
    const { body, pulled } = endless();
    const response = await post('/photographs/shots/left-lens?name=x.jpg', body, {
      'content-length': String(MAX_PHOTOGRAPH_BYTES + 1),
    });
    expect([response.status, await codeOf(response)]).toEqual([413, 'body-too-large']);
    expect(pulled()).toBeLessThanOrEqual(1);
  });

  it('that grow too large are read no further', async () => {
    const { body, pulled } = endless();
    expect((await call('workspace.read', body as never)).status).toBe(413);
    expect(pulled()).toBeLessThan(MAX_CALL_BYTES / 2 ** 18 + 4);
    expect(work.asked).toEqual([]);
  });

  it('that end in the middle are no fault of ours', async () => {
    const body = new ReadableStream<Uint8Array>({
      start: (controller) => controller.enqueue(new Uint8Array(3)),
      pull: (controller) => controller.error(new Error('gone')),
    });
    expect((await post('/photographs/shots/left-lens?name=x.jpg', body)).status).toBe(400);
    expect([work.asked, faults]).toEqual([[], []]);
  });

  it('of photographs reach the work with their name', async () => {
    const response = await post(
      ADDRESSES.addPhotograph({ set: 'shots', role: 'right-lens' }, 'a b&c=ü.jpg'),
      new Uint8Array(1000),
    );
    expect(response.status).toBe(200);
    expect((await post('/photographs/shots/middle-lens?name=x', 'x')).status).toBe(404);
    expect(work.asked).toEqual([['addPhotograph', { set: 'shots', role: 'right-lens' }, 'a b&c=ü.jpg', 1000]]);
  });

  it('are laid among those of the polarizers, and nowhere else', async () => {
    await post(ADDRESSES.addPhotograph({ set: 'polarizers', role: 'series' }, '-5°.jpg'), new Uint8Array(10));
    expect(work.asked).toEqual([['addPhotograph', { set: 'polarizers', role: 'series' }, '-5°.jpg', 10]]);
    expect((await post('/photographs/polarizers/elsewhere?name=a.jpg', new Uint8Array(10))).status).toBe(404);
    expect(
      (await post(`/photographs/polarizers/series?name=a.jpg`, new Uint8Array(10), { origin: 'http://evil.example' }))
        .status,
    ).toBe(403);
    expect(work.asked).toHaveLength(1);
  });

  it('are laid among those that light is measured in, and nowhere else', async () => {
    await post(ADDRESSES.addPhotograph({ set: 'light', role: 'flat-field' }, 'wall.jpg'), new Uint8Array(10));
    expect(work.asked).toEqual([['addPhotograph', { set: 'light', role: 'flat-field' }, 'wall.jpg', 10]]);
    expect((await post('/photographs/light/elsewhere?name=a.jpg', new Uint8Array(10))).status).toBe(404);
    expect(work.asked).toHaveLength(1);
  });

  it('of frames have exactly the size that their address says', async () => {
    const header = { serial: 3, width: 64, height: 64, range: 'video' } as const;
    const response = await post(ADDRESSES.frame(header), new Uint8Array(4096));
    expect([response.status, await codeOf(response)]).toEqual([200, 'frame-dropped']);
    expect((await post(ADDRESSES.frame(header), new Uint8Array(4095))).status).toBe(400);
    expect((await post(ADDRESSES.frame(header), new Uint8Array(4097))).status).toBe(413);
    expect((await post('/live/frame?serial=1&width=64&height=1e3&range=video', 'x')).status).toBe(400);
    expect((await post('/live/frame?serial=1&width=99999&height=64&range=video', 'x')).status).toBe(400);
    expect(work.asked).toEqual([['judgeFrame', header, 4096]]);
  });
});

describe('methods and addresses', () => {
  it.each([
    ['GET', '/call/workspace.read', 'POST'],
    ['GET', '/photographs/shots/left-lens', 'POST'],
    ['GET', '/live/frame', 'POST'],
    ['POST', '/events', 'GET'],
    ['PUT', '/', 'GET, HEAD'],
    ['DELETE', '/rounds/1/report.html', 'GET'],
    ['OPTIONS', '/call/workspace.read', 'POST'],
  ])('%s %s is answered with what is allowed', async (method, path, allowed) => {
    const response = await get(path, { method, headers: { origin: ORIGIN } });
    expect([response.status, response.headers.get('allow')]).toEqual([405, allowed]);
    expect(work.asked).toEqual([]);
  });

  it.each(['/call', '/call/a/b', '/events/x', '/rounds/1', '/rounds/0x1/reading.json', '/rounds/1/other', '/live/x'])(
    '%s is none',
    async (path) => {
      const response = await get(path, {
        method: /call|live/.test(path) ? 'POST' : 'GET',
        headers: { origin: ORIGIN },
      });
      expect(response.status).toBe(404);
    },
  );
});

describe('photographs and rounds', () => {
  it('are sent as they are, and kept where they never change', async () => {
    const response = await get(ADDRESSES.photograph(SHA256, 800));
    expect([...new Uint8Array(await response.arrayBuffer())]).toEqual([1, 2, 3]);
    expect(response.headers.get('content-type')).toBe('image/jpeg');
    expect(response.headers.get('cache-control')).toContain('immutable');
    expect(work.asked).toEqual([['viewPhotograph', SHA256, 800]]);
    expect(await (await get(ADDRESSES.reading(1))).text()).toBe('{"schema":"x"}\n');
  });

  it('that do not exist are not there', async () => {
    expect(await codeOf(await get(ADDRESSES.photograph('cd'.repeat(32))))).toBe('no-such-photograph');
    expect((await get(ADDRESSES.report(2))).status).toBe(404);
    expect((await get(ADDRESSES.reading(2))).status).toBe(404);
    for (const width of ['0', '-1', 'x', '99999', '1.5'])
      expect((await get(`/photographs/${SHA256}?width=${width}`)).status).toBe(400);
  });
});

describe('events', () => {
  const reading = async () => (await get('/events')).body!.pipeThrough(new TextDecoderStream()).getReader();
  const change = (revision: number) => work.tell({ type: 'workspace', workspace: { ...EMPTY, revision } });

  it('come to every listener, the present state first', async () => {
    const readers = [await reading(), await reading()];
    for (const reader of readers) {
      expect(JSON.parse((await reader.read()).value!)).toEqual({ type: 'workspace', workspace: EMPTY });
    }
    change(2);
    for (const reader of readers) expect(JSON.parse((await reader.read()).value!).workspace.revision).toBe(2);
    for (const reader of readers) await reader.cancel();
    expect(work.listeners.size).toBe(0);
  });

  it('do not pile up before a slow one', async () => {
    const reader = await reading();
    await reader.read();
    for (let revision = 2; revision < 500; revision++) change(revision);
    work.tell({ type: 'engine', state: 'ready' });
    const heard: { type: string; workspace?: { revision: number } }[] = [];
    while (heard.at(-1)?.type !== 'engine') {
      for (const line of (await reader.read()).value!.trim().split('\n')) heard.push(JSON.parse(line));
    }
    expect(heard.length).toBeLessThan(5);
    expect(heard.findLast(({ type }) => type === 'workspace')!.workspace!.revision).toBe(499);
    await reader.cancel();
  });
});
