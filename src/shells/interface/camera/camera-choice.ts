/** Which camera, which size and how many frames were chosen the last time, kept by the browser for this program. */
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

/** Sizes that a camera may be asked for. */

export interface Size {
  readonly width: number;
  readonly height: number;
}

const USUAL_SIZES: readonly Size[] = [
  { width: 3840, height: 2160 },
  { width: 2560, height: 1440 },
  { width: 1920, height: 1080 },
  { width: 1280, height: 720 },
  { width: 640, height: 480 },
];
const DEFAULT_SIZE: Size = { width: 1920, height: 1080 };

/** Largest first: the camera's own largest size, and the usual ones below it. `most` is undefined where it does not tell. */
export function offerSizes(max: Partial<Size> | undefined): readonly Size[] {
  const { width, height } = max ?? {};
  if (width === undefined || height === undefined) return USUAL_SIZES;
  const smaller = USUAL_SIZES.filter((size) => size.width <= width && size.height <= height);
  const isUsual = smaller.some((size) => size.width === width && size.height === height);
  return isUsual ? smaller : [{ width, height }, ...smaller];
}

export function nameOfSize({ width, height }: Size): string {
  return `${width}x${height}`;
}

export function sizeOfName(name: string): Size | undefined {
  const match = /^(\d{2,5})x(\d{2,5})$/.exec(name);
  return match ? { width: Number(match[1]), height: Number(match[2]) } : undefined;
}

/** What can be wrong with a camera, each with a sentence and a remedy in the wording. */

export const CAMERA_PROBLEMS = [
  'denied',
  'none',
  'busy',
  'unsupported',
  'ended',
  'muted',
  'silent',
  'rested',
  'unknown',
] as const;
export type CameraProblem = (typeof CAMERA_PROBLEMS)[number];

/** Names of the errors with which a browser refuses a camera (Media Capture and Streams, W3C). */
const PROBLEM_OF_ERROR: Readonly<Record<string, CameraProblem>> = {
  NotAllowedError: 'denied',
  SecurityError: 'denied',
  NotFoundError: 'none',
  OverconstrainedError: 'none',
  NotReadableError: 'busy',
  AbortError: 'busy',
  TypeError: 'unsupported',
};

export function cameraProblemOf(error: unknown): CameraProblem {
  const name = error instanceof Object && 'name' in error ? String(error.name) : '';
  return PROBLEM_OF_ERROR[name] ?? 'unknown';
}
