/**
 * A browser that nothing watches but a few questions of ours, over the pipe of Chromium's DevTools Protocol. Playwright
 * has every request of a page told to it, bodies included, which of two megabytes a frame takes longer than the judging.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Readable, Writable } from 'node:stream';
import { findBrowser } from '../interface/launch-browser.ts';

const ARGUMENTS = [
  '--headless=new',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-background-networking',
  '--no-first-run',
  '--remote-debugging-pipe',
];

export interface BarePage {
  goTo(address: string): Promise<void>;
  /** The value of an expression in the page; promises are waited for. */
  evaluate(expression: string): Promise<unknown>;
  close(): Promise<void>;
}

interface Answer {
  readonly id?: number;
  readonly result?: Record<string, never>;
  readonly error?: { readonly message: string };
}

/** `script` runs in every document before its own. */
export async function openBarePage(script: string, further: readonly string[]): Promise<BarePage> {
  const found = findBrowser();
  if ('missing' in found) throw new Error(found.missing);
  const profile = mkdtempSync(join(tmpdir(), 'bare-browser-'));
  const args = [...ARGUMENTS, `--user-data-dir=${profile}`, '--window-size=1280,900', ...further, 'about:blank'];
  const browser = spawn(found.path, args, { stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'] });
  const ended = new Promise<void>((resolve) => {
    browser.once('exit', () => resolve());
  });
  const call = speak(browser.stdio[3] as Writable, browser.stdio[4] as Readable);
  const { targetId } = await call('Target.createTarget', { url: 'about:blank' });
  const { sessionId } = await call('Target.attachToTarget', { targetId, flatten: true });
  const ask = (method: string, params: object = {}) => call(method, params, sessionId);
  await ask('Page.enable');
  await ask('Page.addScriptToEvaluateOnNewDocument', { source: script });
  return {
    goTo: async (address) => {
      await ask('Page.navigate', { url: address });
    },
    evaluate: async (expression) => {
      const { result } = await ask('Runtime.evaluate', { expression, returnByValue: true, awaitPromise: true });
      return (result as { value?: unknown }).value;
    },
    close: async () => {
      browser.kill();
      await ended;
      rmSync(profile, { recursive: true, force: true });
    },
  };
}

/** Messages are JSON with a zero byte behind each; `sessionId` says for which page one is, none for the browser itself. */
function speak(to: Writable, from: Readable) {
  const waiting = new Map<number, (answer: Answer) => void>();
  let count = 0;
  let rest = '';
  from.setEncoding('utf8').on('data', (text: string) => {
    const messages = (rest + text).split('\0');
    rest = messages.pop()!;
    for (const message of messages) {
      const answer = JSON.parse(message) as Answer;
      if (answer.id !== undefined) waiting.get(answer.id)?.(answer);
    }
  });
  return async (method: string, params: object, sessionId?: string): Promise<Record<string, never>> => {
    count++;
    const id = count;
    const answered = new Promise<Answer>((resolve) => waiting.set(id, resolve));
    to.write(`${JSON.stringify({ id, method, params, ...(sessionId ? { sessionId } : {}) })}\0`);
    const { result, error } = await answered;
    waiting.delete(id);
    if (!result) throw new Error(`${method}: ${error?.message}`);
    return result;
  };
}
