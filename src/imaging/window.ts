/** A window of a picture in whole pixels, named by its top-left pixel and its size. */
import type { Pixels } from './pixels.ts';

/** Throws RangeError unless the window holds at least one pixel and lies wholly inside the picture. */
export function requireWindow(pixels: Pixels, x0: number, y0: number, width: number, height: number): void {
  const whole = [x0, y0, width, height].every(Number.isInteger);
  const inside = x0 >= 0 && y0 >= 0 && x0 + width <= pixels.width && y0 + height <= pixels.height;
  if (!whole || width < 1 || height < 1 || !inside) {
    throw new RangeError(
      `window ${width}x${height} at (${x0}, ${y0}) is not within a picture of ${pixels.width}x${pixels.height} pixels`,
    );
  }
}
