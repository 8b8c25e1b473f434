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
export const DEFAULT_SIZE: Size = { width: 1920, height: 1080 };

/** Largest first: the camera's own largest size, and the usual ones below it. `most` is undefined where it does not tell. */
export function offerSizes(most: Partial<Size> | undefined): readonly Size[] {
  const { width, height } = most ?? {};
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
