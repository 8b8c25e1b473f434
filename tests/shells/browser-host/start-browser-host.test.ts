import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type BrowserHost, startBrowserHost } from '../../../src/shells/browser-host/start-browser-host.ts';
import { EMPTY, StandInWork } from '../gateway/stand-in-work.ts';

let folder: string;
let work: StandInWork;
let host: BrowserHost;
const faults: unknown[] = [];

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'browser-host-'));
  await writeFile(join(folder, 'index.html'), '<!doctype html><title>page</title>');
  work = new StandInWork();
  faults.length = 0;
  host = await startBrowserHost({ work, interfaceFolder: folder, port: 0, onFault: (fault) => faults.push(fault) });
});
afterEach(async () => {
  await host.close();
  await rm(folder, { recursive: true });
});

const letIn = async () => {
  const entered = await fetch(host.issueAddress(), { redirect: 'manual' });
  return { cookie: entered.headers.get('set-cookie')!.split(';')[0]!, origin: host.origin };
};

describe('a browser that was let in', () => {
  it('gets the page, and comes back by an address that is used up', async () => {
    const { cookie } = await letIn();
    expect(await (await fetch(host.origin, { headers: { cookie } })).text()).toContain('<title>page');
    const again = await fetch(`${host.origin}/enter?token=used`, { redirect: 'manual', headers: { cookie } });
    expect([again.status, again.headers.get('set-cookie')]).toEqual([303, null]);
  });

  it('sends large bodies whole', async () => {
    const headers = await letIn();
    const body = new Uint8Array(20 * 2 ** 20 + 7);
    const response = await fetch(`${host.origin}/photographs/shots/bare?name=x`, { method: 'POST', body, headers });
    expect(response.status).toBe(200);
    expect(work.asked).toEqual([['addPhotograph', { set: 'shots', role: 'bare' }, 'x', body.length]]);
  });

  it('hears events until it goes, and then nobody keeps talking to it', async () => {
    const headers = await letIn();
    const stop = new AbortController();
    const response = await fetch(`${host.origin}/events`, { headers, signal: stop.signal });
    const reader = response.body!.pipeThrough(new TextDecoderStream()).getReader();
    expect(JSON.parse((await reader.read()).value!)).toEqual({ type: 'workspace', workspace: EMPTY });
    work.tell({ type: 'engine', state: 'ready' });
    expect(JSON.parse((await reader.read()).value!)).toEqual({ type: 'engine', state: 'ready' });
    stop.abort();
    await reader.read().catch(() => undefined);
    await expect.poll(() => work.listeners.size).toBe(0);
  });

  it('that goes in the middle of sending is no fault', async () => {
    const headers = await letIn();
    await new Promise<void>((resolve) => {
      const sent = request(`${host.origin}/photographs/shots/bare?name=x`, {
        method: 'POST',
        headers: { ...headers, 'content-length': 1000 },
      });
      sent.on('error', () => resolve());
      sent.write('x', () => sent.destroy());
    });
    expect((await fetch(host.origin, { headers })).status).toBe(200);
    expect([work.asked, faults]).toEqual([[], []]);
  });
});

describe('the host', () => {
  it('says when its port is taken', async () => {
    const port = Number(new URL(host.origin).port);
    await expect(startBrowserHost({ work, interfaceFolder: folder, port })).rejects.toMatchObject({
      code: 'EADDRINUSE',
    });
  });

  it('does not go on without an interface', async () => {
    await rm(join(folder, 'index.html'));
    await expect(startBrowserHost({ work, interfaceFolder: folder, port: 0 })).rejects.toThrow('not built');
  });

  it('ends also while somebody listens', async () => {
    const headers = await letIn();
    const response = await fetch(`${host.origin}/events`, { headers });
    const reader = response.body!.getReader();
    await reader.read();
    await host.close();
    await expect(reader.read()).rejects.toThrow();
    expect(work.listeners.size).toBe(0);
  });
});
