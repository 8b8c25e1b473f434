/** The built preload by itself: what it puts into the page, and what it lets through. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, it } from 'vitest';
import { BRIDGE_NAME, CHANNELS, type DesktopBridge } from '../../../src/contract/commands.ts';
import { ROOT } from './start-built-desktop.ts';

type Listener = (event: object, ...payload: unknown[]) => void;

const exposed = new Map<string, DesktopBridge>();
const listeners = new Map<string, Set<Listener>>();
const invoked: unknown[][] = [];
const required: string[] = [];

beforeAll(() => {
  const electron = {
    contextBridge: { exposeInMainWorld: (name: string, bridge: DesktopBridge) => exposed.set(name, bridge) },
    ipcRenderer: {
      on: (channel: string, listener: Listener) =>
        listeners.set(channel, new Set([...(listeners.get(channel) ?? []), listener])),
      removeListener: (channel: string, listener: Listener) => listeners.get(channel)?.delete(listener),
      invoke: async (...words: unknown[]) => {
        invoked.push(words);
        return { ok: true, value: [] };
      },
    },
  };
  const bundle = readFileSync(join(ROOT, 'out', 'preload', 'desktop.cjs'), 'utf8');
  new Function('require', 'module', 'exports', bundle)(
    (name: string) => {
      required.push(name);
      return name === 'electron' ? electron : undefined;
    },
    { exports: {} },
    {},
  );
});

const send = (...payload: unknown[]) => {
  for (const listener of listeners.get(CHANNELS.command) ?? []) listener({ sender: 'the runtime' }, ...payload);
};

it('puts the bridge of the contract into the page, and needs nothing but the runtime', () => {
  expect([...exposed.keys()]).toEqual([BRIDGE_NAME]);
  expect(Object.keys(exposed.get(BRIDGE_NAME)!).toSorted()).toEqual(['chooseFolder', 'choosePhotographs', 'onCommand']);
  expect([...new Set(required)]).toEqual(['electron']);
});

it('hands on commands of the contract and nothing else of the message, until it is told to stop', () => {
  const heard: unknown[][] = [];
  const stop = exposed.get(BRIDGE_NAME)!.onCommand((...words) => heard.push(words));
  send('measure', 'more');
  send('no-such-command');
  send({ toString: () => 'measure' });
  send();
  expect(heard).toEqual([['measure']]);
  stop();
  send('measure');
  expect(heard).toHaveLength(1);
  expect(listeners.get(CHANNELS.command)!.size).toBe(0);
});

it('asks for photographs without a payload, whatever the page gives it', async () => {
  const choose = exposed.get(BRIDGE_NAME)!.choosePhotographs as (...words: unknown[]) => Promise<unknown>;
  expect(await choose('/etc/passwd')).toEqual({ ok: true, value: [] });
  expect(invoked).toEqual([[CHANNELS.choosePhotographs]]);
});
