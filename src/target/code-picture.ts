import type { Pixels, Raster } from '../imaging/pixels.ts';
import { srgbFromLinear } from '../imaging/srgb.ts';

/** A raster of linear light as 8-bit grey pixels, sRGB-coded and rounded to the nearest code. */
export function codePicture({ width, height, data }: Raster): Pixels {
  const codes = new Uint8Array(data.length);
  // Almost all pixels are plain black or white, in runs.
  let light = 0;
  let code = 0;
  data.forEach((value, i) => {
    if (value !== light) {
      light = value;
      code = Math.round(255 * srgbFromLinear(Math.min(1, Math.max(0, value))));
    }
    codes[i] = code;
  });
  return { width, height, channels: 1, data: codes };
}
