/**
 * What the screen itself adds to a picture: the holes through which the loudspeakers are heard, and the seams between the
 * widths of its cloth.
 *
 *   reflects(x, y) = (1 - h (1 + m(x) + m(y))) * product over seams (1 - d exp(-(x - x_s)^2 / (2 w^2)))
 *   m(x) = a cos(2 pi x / pitch)
 *
 * h is the part of the area that the holes take away. Holes are finer than a photo pixel or not much coarser, so that only
 * the ground wave of their lattice is left of them, weakened by the pixel (a = sinc(pixel / pitch)); against the lattice of
 * the pixels it beats as a moire. Places along the screen, ih.
 */
import type { Raster } from '../imaging/pixels.ts';
import type { Scene, Shot } from './scene.ts';
import { screenFromPhoto } from './picture-path.ts';
import { type PhotoWindow, smoothField } from './photo-window.ts';

export function textureOfScreen(scene: Scene, shot: Shot, window: PhotoWindow): Raster | undefined {
  const { texture } = scene.surface;
  if (!texture) return undefined;
  const toScreen = screenFromPhoto(scene, shot.camera);
  const along = (x: number) => {
    const radius = scene.screenRadius_ih;
    return radius === undefined ? x : radius * Math.asin(x / radius);
  };
  const xs = smoothField(window, (p) => along(toScreen(p).x));
  const ys = smoothField(window, (p) => toScreen(p).y);
  const { holes, seams } = texture;
  const out = new Float32Array(xs.data.length).fill(1);
  for (let i = 0; i < out.length; i++) {
    const [x, y] = [xs.data[i], ys.data[i]];
    if (holes) {
      const pixel_ih = Math.abs(xs.data[i + 1 < out.length ? i + 1 : i] - x);
      // At the end of a row the next pixel is far away; the footprint is then that of no hole at all.
      const t = (Math.PI * pixel_ih) / holes.pitch_ih;
      const amplitude = t > 0 && t < 20 ? Math.sin(t) / t : 0;
      const wave = Math.cos((2 * Math.PI * x) / holes.pitch_ih) + Math.cos((2 * Math.PI * y) / holes.pitch_ih);
      out[i] *= 1 - holes.part * (1 + amplitude * wave);
    }
    if (seams) {
      const off = x - seams.apart_ih * Math.round(x / seams.apart_ih - 0.5) - 0.5 * seams.apart_ih;
      out[i] *= 1 - seams.depth * Math.exp((-off * off) / (2 * seams.width_ih ** 2));
    }
  }
  return { width: xs.width, height: xs.height, data: out };
}
