/**
 * The OpenCV library, loaded once.
 *
 * The package compiles its WebAssembly when it is first imported (about 0.15 s, 70 MB), so it is imported only when a
 * picture is to be searched. While loading it installs process-wide handlers that would end the process on any
 * stray rejection; exactly those are taken away again.
 */
import type { cv } from 'opencv-wasm';

export type OpenCv = typeof cv;

/** The few events of a host process that the package meddles with; absent outside Node. */
interface EventHost {
  listeners(event: string): unknown[];
  off(event: string, listener: unknown): unknown;
}

const MEDDLED_EVENTS = ['uncaughtException', 'unhandledRejection'];

/** In a box, because the library's object has a `then` method of its own and a promise of it would never settle. */
export interface OpenCvBox {
  readonly cv: OpenCv;
}

let loading: Promise<OpenCvBox> | undefined;

export function loadOpenCv(): Promise<OpenCvBox> {
  loading ??= load();
  return loading;
}

async function load(): Promise<OpenCvBox> {
  const host = (globalThis as { process?: EventHost }).process;
  const before = new Map(MEDDLED_EVENTS.map((event) => [event, new Set(host?.listeners(event) ?? [])]));
  const module = await import('opencv-wasm');
  for (const [event, known] of before) {
    for (const listener of host?.listeners(event) ?? []) if (!known.has(listener)) host?.off(event, listener);
  }
  return { cv: module.cv };
}
