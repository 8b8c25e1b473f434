/** Which camera, which size and how many frames were chosen the last time, kept by the browser for this program. */
import { DEFAULT_SIZE, nameOfSize, type Size, sizeOfName } from './resolutions.ts';

export interface CameraChoice {
  /** Empty: whichever camera the system offers first. */
  readonly device: string;
  readonly size: Size;
  readonly frames: FrameCount;
}

export const FRAME_COUNTS = [1, 8, 16, 32] as const;
export type FrameCount = (typeof FRAME_COUNTS)[number];
const DEFAULT_FRAMES: FrameCount = 16;

const KEY = 'camera-choice';

export function recallChoice(storage: Pick<Storage, 'getItem'> | undefined): CameraChoice {
  const kept = parse(storage?.getItem(KEY) ?? null);
  const device = typeof kept.device === 'string' ? kept.device : '';
  const size = (typeof kept.size === 'string' && sizeOfName(kept.size)) || DEFAULT_SIZE;
  const frames = FRAME_COUNTS.find((count) => count === kept.frames) ?? DEFAULT_FRAMES;
  return { device, size, frames };
}

export function keepChoice(storage: Pick<Storage, 'setItem'> | undefined, choice: CameraChoice): void {
  storage?.setItem(KEY, JSON.stringify({ ...choice, size: nameOfSize(choice.size) }));
}

function parse(text: string | null): Readonly<Record<string, unknown>> {
  try {
    const value: unknown = JSON.parse(text ?? '{}');
    return value instanceof Object ? (value as Record<string, unknown>) : {};
  } catch {
    return {};
  }
}
