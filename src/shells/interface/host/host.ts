/**
 * The shell behind this page, as the interface sees it: procedures of the contract, photographs, frames and events.
 * The same addresses are answered by the desktop's own protocol and by the browser host.
 */
import { ADDRESSES } from '../../../contract/addresses.ts';
import type { Event } from '../../../contract/events.ts';
import type { Outcome } from '../../../contract/failures.ts';
import type { FrameHeader, FrameVerdict } from '../../../contract/live.ts';
import type { WaitingPhotograph } from '../../../contract/logbook.ts';
import type { Input, Output, ProcedureName } from '../../../contract/procedures.ts';
import type { PhotographPlace } from '../../../contract/shots.ts';
import type { Workspace } from '../../../contract/workspace.ts';
import { translateFailure } from '../../../wording/failures.ts';

export interface Host {
  call<P extends ProcedureName>(name: P, input: Input<P>): Promise<Outcome<Output<P>>>;
  /** `signal` gives the sending up; the outcome then is a failure. */
  addPhotograph(place: PhotographPlace, file: File, signal?: AbortSignal): Promise<Outcome<Workspace>>;
  /** A photograph that will be added to an entry of the logbook, and a bundle that is to be imported. */
  addLogbookPhotograph(file: File): Promise<Outcome<WaitingPhotograph>>;
  importBundle(file: File): Promise<Outcome<{ job: number }>>;
  /** A report, a table, a bundle, with the name under which it is saved. */
  fetchFile(address: string): Promise<Outcome<{ readonly name: string; readonly blob: Blob }>>;
  judgeFrame(header: FrameHeader, luma: BufferSource): Promise<Outcome<FrameVerdict>>;
  /** Calls `onEvent` until the returned function is called; `onLost` when the shell no longer answers. */
  listen(onEvent: (event: Event) => void, onLost: () => void): () => void;
}

export function connectHost(): Host {
  return {
    call: (name, input) =>
      post(ADDRESSES.call(name), JSON.stringify(input), { 'content-type': 'application/json' }) as never,
    addPhotograph: (place, file, signal) => post(ADDRESSES.addPhotograph(place, file.name), file, {}, signal),
    addLogbookPhotograph: (file) => post(ADDRESSES.logbook.addPhotograph(file.name), file, {}),
    importBundle: (file) => post(ADDRESSES.logbook.importBundle(file.name), file, {}),
    fetchFile,
    judgeFrame: (header, luma) => post(ADDRESSES.frame(header), luma, { 'content-type': 'application/octet-stream' }),
    listen,
  };
}

async function post<T>(
  address: string,
  body: BodyInit,
  headers: Record<string, string>,
  signal: AbortSignal | null = null,
): Promise<Outcome<T>> {
  try {
    const response = await fetch(address, { method: 'POST', body, headers, signal });
    return (await response.json()) as Outcome<T>;
  } catch {
    return { ok: false, failure: translateFailure('host-unreachable') };
  }
}

async function fetchFile(address: string): Promise<Outcome<{ name: string; blob: Blob }>> {
  try {
    const response = await fetch(address);
    if (!response.ok) return (await response.json()) as Outcome<never>;
    const name = /filename="([^"]+)"/.exec(response.headers.get('content-disposition') ?? '')?.[1] ?? 'twinplumb';
    return { ok: true, value: { name, blob: await response.blob() } };
  } catch {
    return { ok: false, failure: translateFailure('host-unreachable') };
  }
}

function listen(onEvent: (event: Event) => void, onLost: () => void): () => void {
  const stop = new AbortController();
  void readEvents(onEvent, stop.signal).then(onLost, onLost);
  return () => stop.abort();
}

async function readEvents(onEvent: (event: Event) => void, signal: AbortSignal): Promise<void> {
  const response = await fetch(ADDRESSES.events, { signal });
  const reader = response.body!.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    const lines = (rest + value).split('\n');
    rest = lines.pop()!;
    for (const line of lines) if (line !== '') onEvent(JSON.parse(line) as Event);
  }
}
