/**
 * Decoded, upright pixels as they came out of a photograph: interleaved channels, sRGB-coded.
 * `data[(y * width + x) * channels + c]`, full scale 255 or 65535 by the array's type.
 */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly channels: 1 | 3;
  readonly data: Uint8Array | Uint16Array;
  /** First value of the luminance quantization table of the JPEG that they came out of; left out for files without loss. */
  readonly quantization?: number;
}

/**
 * A grey picture in memory: `data[y * width + x]`, row by row from the top.
 * The centre of the top-left pixel is (0, 0); x right, y down. The unit of the values is the holder's business;
 * for luminance it is linear light with 1 = the brightest value the file can hold.
 */
export interface Raster {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/**
 * A window of a picture in whole pixels is named by its top-left pixel and its size.
 * Throws RangeError unless it holds at least one pixel and lies wholly inside the picture.
 */
export function requireWindow(pixels: Pixels, x0: number, y0: number, width: number, height: number): void {
  const whole = [x0, y0, width, height].every(Number.isInteger);
  const inside = x0 >= 0 && y0 >= 0 && x0 + width <= pixels.width && y0 + height <= pixels.height;
  if (!whole || width < 1 || height < 1 || !inside) {
    throw new RangeError(
      `window ${width}x${height} at (${x0}, ${y0}) is not within a picture of ${pixels.width}x${pixels.height} pixels`,
    );
  }
}
