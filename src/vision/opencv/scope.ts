/**
 * OpenCV's objects live outside the garbage collector. A scope deletes all that was made in it, also when the work
 * fails, and turns the numbers that the library throws into errors with a message.
 */
import type { OpenCv } from './load-opencv.ts';

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
