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

/**
 * Loaded once, at the first call. The box keeps `await` from taking the module for a promise.
 *
 * @example
 * const { cv } = await loadOpenCv();
 */
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

/**
 * OpenCV's objects live outside the garbage collector. A scope deletes all that was made in it, also when the work
 * fails, and turns the numbers that the library throws into errors with a message.
 */

interface Deletable {
  delete(): void;
}

export type Keep = <T extends Deletable>(thing: T) => T;

export function withScope<T>(cv: OpenCv, work: (keep: Keep) => T): T {
  const kept: Deletable[] = [];
  try {
    return work((thing) => {
      kept.push(thing);
      return thing;
    });
  } catch (thrown) {
    throw typeof thrown === 'number' ? new Error(`OpenCV: ${messageOf(cv, thrown)}`) : thrown;
  } finally {
    for (const thing of kept.reverse()) thing.delete();
  }
}

function messageOf(cv: OpenCv, pointer: number): string {
  const translate = (cv as unknown as { exceptionFromPtr(pointer: number): { msg: string } }).exceptionFromPtr;
  return translate(pointer).msg;
}
