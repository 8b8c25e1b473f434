/** The built browser host as a person starts it, in a folder of its own, and a browser that has been let in. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Event } from '../../src/contract/events.ts';
import type { Outcome } from '../../src/contract/failures.ts';
import type { Workspace } from '../../src/contract/workspace.ts';

const BUILT = fileURLToPath(new URL('../../out/node/browser-host.js', import.meta.url));
if (!existsSync(BUILT)) throw new Error('the browser host is not built: npm run build');

export interface RunningHost {
  readonly folder: string;
  /** Lets one browser in, once. */
  readonly address: string;
  readonly origin: string;
  readonly port: number;
  /** From the start of the process to the printed address. */
  readonly ready_ms: number;
  readonly process: ChildProcess;
  readonly remarks: () => string;
  /** Ends it as Ctrl-C does; the status that it ends with. */
  readonly stop: () => Promise<number | null>;
}

export async function startHost(
  folder = mkdtempSync(join(tmpdir(), 'host-')),
  words: readonly string[] = [],
  /** What Node itself is told. */
  ofNode: readonly string[] = [],
): Promise<RunningHost> {
  const begun = performance.now();
  const child = spawn(process.execPath, [...ofNode, BUILT, '--folder', folder, '--no-open', ...words], {
    stdio: 'pipe',
  });
  let remarks = '';
  child.stderr.on('data', (text) => {
    remarks += text;
  });
  const ended = new Promise<number | null>((resolve) => {
    child.on('exit', resolve);
  });
  const address = await new Promise<string>((resolve, reject) => {
    let printed = '';
    child.stdout.on('data', (text) => {
      printed += text;
      const found = /^ {2}(http:\S+)$/m.exec(printed);
      if (found) resolve(found[1]!);
    });
    void ended.then((status) => reject(new Error(`the host ended with ${status}: ${remarks}`)));
  });
  const ready_ms = performance.now() - begun;
  const { origin, port } = new URL(address);
  const stop = () => {
    child.kill('SIGINT');
    return ended;
  };
  return { folder, address, origin, port: Number(port), ready_ms, process: child, remarks: () => remarks, stop };
}

export function removeFolder({ folder }: RunningHost): void {
  rmSync(folder, { recursive: true, force: true });
}

export class LetIn {
  readonly origin: string;
  readonly cookie: string;

  private constructor(origin: string, cookie: string) {
    this.origin = origin;
    this.cookie = cookie;
  }

  static async by({ address, origin }: RunningHost): Promise<LetIn> {
    const response = await fetch(address, { redirect: 'manual' });
    if (response.status !== 303) throw new Error(`not let in: ${response.status}`);
    return new LetIn(origin, response.headers.get('set-cookie')!.split(';')[0]!);
  }

  get(path: string, headers: Record<string, string> = {}): Promise<Response> {
    return fetch(`${this.origin}${path}`, { headers: { cookie: this.cookie, ...headers } });
  }

  post(path: string, body: RequestInit['body'], headers: Record<string, string> = {}): Promise<Response> {
    const all = { cookie: this.cookie, origin: this.origin, ...headers };
    return fetch(`${this.origin}${path}`, { method: 'POST', body: body!, headers: all });
  }

  async call<T = Workspace>(name: string, input: unknown = {}): Promise<T> {
    const response = await this.post(`/call/${name}`, JSON.stringify(input), { 'content-type': 'application/json' });
    return valueIn<T>(response);
  }

  /** Waits for a state of the workspace, as its events tell it. */
  async until(isReached: (workspace: Workspace) => boolean): Promise<Workspace> {
    const response = await this.get('/events');
    let rest = '';
    for await (const text of response.body!.pipeThrough(new TextDecoderStream())) {
      const lines = (rest + text).split('\n');
      rest = lines.pop()!;
      for (const line of lines) {
        const event = JSON.parse(line) as Event;
        if (event.type === 'workspace' && isReached(event.workspace)) return event.workspace;
      }
    }
    throw new Error('the host ended before that');
  }
}

export async function valueIn<T>(response: Response): Promise<T> {
  const outcome = (await response.json()) as Outcome<T>;
  if (!outcome.ok) throw new Error(`${outcome.failure.code}: ${outcome.failure.message}`);
  return outcome.value;
}
