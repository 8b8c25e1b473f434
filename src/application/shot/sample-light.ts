/**
 * Light in places of a photograph: what each mark of the target sends, in luminance and in the three channels, and what
 * an evenly lit surface sends all over the frame.
 *
 * A mark's luminance is its contrast as fitted, bright minus dark, so that black level, stray light and blur cancel. Its
 * channels are sampled in discs well inside the quadrants, and only their proportions are taken from there.
 */
import { CLIPPING_CODE } from '../../imaging/exposure.ts';
import { LUMA_WEIGHTS } from '../../imaging/luminance.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { LINEAR_FROM_8BIT, linearFrom16BitTable } from '../../imaging/srgb.ts';
import type { Eye } from '../../kernel/eye.ts';
import type { Measured } from '../../kernel/measured.ts';
import type { Point } from '../../kernel/point.ts';
import type { View } from '../../kernel/view.ts';
import type { LightSample } from '../../light/light-surface.ts';
import type { FrameSample } from '../../light/vignetting.ts';
import { type MarkFrame, predictFrame } from '../../vision/crossing-pixels.ts';
import type { ExaminedShot } from './examine-shot.ts';

/** Red, green, blue. */
export type ChannelLight = readonly [Measured, Measured, Measured];

/** The light of one mark: luminance at its chart point and at its place in the frame. */
export interface MarkLight extends LightSample, FrameSample {
  readonly id: string;
  /** Undefined in photographs of one channel, and where the quadrants are too small to be sampled. */
  readonly channels: ChannelLight | undefined;
}

/** From the photograph's middle, in half diagonals. */
export function placeInFrame({ width, height }: Pixels, at: Point): Point {
  const half = Math.hypot(width, height) / 2;
  return { x: (at.x - (width - 1) / 2) / half, y: (at.y - (height - 1) / 2) / half };
}

/** The marks of one eye's picture that are not burnt out; empty where the photograph does not show that picture. */
export function sampleMarks({ pixels, fit, marks, blur_px }: ExaminedShot, eye: Eye): MarkLight[] {
  const view: View | undefined = fit.views[eye];
  if (!view) return [];
  return marks[eye]
    .filter(({ clipped, contrast }) => !clipped && contrast > 0)
    .map(({ mark, centre, contrast, contrastU }) => {
      const frame = { ...predictFrame(view, mark), centre };
      return {
        id: mark.id,
        at: { x: mark.x, y: mark.y },
        place: placeInFrame(pixels, centre),
        light: contrast,
        u: contrastU,
        channels: pixels.channels === 3 ? shareOut(contrast, channelContrasts(pixels, frame, blur_px)) : undefined,
      };
    });
}

/** Discs between the edges of a quadrant and its rim: as parts of the crossing's radius, along each of the frame's axes. */
const DISC_CENTRE = 0.414;
const DISC_RADIUS = 0.414;
/** Edges and rim reach so many standard deviations of the blur into a quadrant. */
const BLUR_REACH = 2;
const MIN_DISC_PX = 1;

/** Bright minus dark of each channel; `undefined` where the discs are too small or burnt out. */
function channelContrasts(pixels: Pixels, frame: MarkFrame, blur_px: number): Measured[] | undefined {
  const { centre, a1, a2 } = frame;
  const size = Math.min(Math.hypot(a1.x, a1.y), Math.hypot(a2.x, a2.y));
  const radius = DISC_RADIUS * size - BLUR_REACH * blur_px;
  if (radius < MIN_DISC_PX) return undefined;
  const disc = (s: number, t: number) =>
    sampleDisc(pixels, { x: centre.x + s * a1.x + t * a2.x, y: centre.y + s * a1.y + t * a2.y }, radius);
  const d = DISC_CENTRE;
  const discs = [disc(d, d), disc(-d, -d), disc(d, -d), disc(-d, d)];
  if (discs.some((found) => found === undefined)) return undefined;
  const [a, b, c, e] = discs as Measured[][];
  return [0, 1, 2].map((k) => ({
    value: (a[k].value + b[k].value - c[k].value - e[k].value) / 2,
    u: Math.hypot(a[k].u, b[k].u, c[k].u, e[k].u) / 2,
  }));
}

/** The luminance of a mark shared out among its channels. */
function shareOut(luminance: number, contrasts: Measured[] | undefined): ChannelLight | undefined {
  if (!contrasts) return undefined;
  const weights = [LUMA_WEIGHTS.red, LUMA_WEIGHTS.green, LUMA_WEIGHTS.blue];
  const sum = contrasts.reduce((total, { value }, k) => total + weights[k] * value, 0);
  if (!(sum > 0)) return undefined;
  const factor = luminance / sum;
  const [red, green, blue] = contrasts.map(({ value, u }) => ({ value: value * factor, u: u * factor }));
  return [red, green, blue];
}

/**
 * Mean linear light of each channel over a disc; `undefined` at the frame's edge or where a pixel is burnt out.
 *
 *   u^2 = scatter^2 / (n - 1) + step^2 / 12        the second where the pixels scatter by less than half a code
 *
 * JPEG smooths an even surface until whole discs have one code. Then nothing averages the rounding out, and without the
 * second part such a disc would count for more than all others (GUM F.2.2.1: the resolution of an indication).
 */
export function sampleDisc(pixels: Pixels, centre: Point, radius: number): Measured[] | undefined {
  const { width, height, channels, data } = pixels;
  const [x0, x1] = [Math.ceil(centre.x - radius), Math.floor(centre.x + radius)];
  const [y0, y1] = [Math.ceil(centre.y - radius), Math.floor(centre.y + radius)];
  if (x0 < 0 || y0 < 0 || x1 >= width || y1 >= height) return undefined;
  const linear = data instanceof Uint8Array ? LINEAR_FROM_8BIT : linearFrom16BitTable();
  const limit = data instanceof Uint8Array ? CLIPPING_CODE : CLIPPING_CODE * 257;
  const sums = new Float64Array(channels);
  const squares = new Float64Array(channels);
  const highest = new Uint16Array(channels);
  let count = 0;
  for (let y = y0; y <= y1; y++) {
    for (let x = x0; x <= x1; x++) {
      if (Math.hypot(x - centre.x, y - centre.y) > radius) continue;
      count++;
      for (let k = 0; k < channels; k++) {
        const code = data[(y * width + x) * channels + k];
        if (code >= limit) return undefined;
        sums[k] += linear[code];
        squares[k] += linear[code] ** 2;
        if (code > highest[k]) highest[k] = code;
      }
    }
  }
  if (count < 2) return undefined;
  return Array.from(sums, (sum, k) => {
    const variance = Math.max(0, squares[k] / count - (sum / count) ** 2);
    const step = linear[highest[k] + 1] - linear[highest[k]];
    const rounding = variance < (step / 2) ** 2 ? step ** 2 / 12 : 0;
    return { value: sum / count, u: Math.sqrt(variance / (count - 1) + rounding) };
  });
}

/** How the frame of an evenly lit surface is sampled: so many discs across, of this part of its width. */
const FLAT_COLUMNS = 21;
const FLAT_DISC = 0.006;

/** Luminance over the frame of a photograph of an evenly lit surface; burnt-out places are left out. */
export function sampleFlat(pixels: Pixels): FrameSample[] {
  const radius = Math.max(2, FLAT_DISC * pixels.width);
  const pitch = (pixels.width - 2 * radius - 2) / (FLAT_COLUMNS - 1);
  const rows = Math.floor((pixels.height - 2 * radius - 2) / pitch) + 1;
  const top = (pixels.height - 1 - (rows - 1) * pitch) / 2;
  const samples: FrameSample[] = [];
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < FLAT_COLUMNS; c++) {
      const at = { x: radius + 1 + c * pitch, y: top + r * pitch };
      const disc = sampleDisc(pixels, at, radius);
      if (disc) samples.push({ place: placeInFrame(pixels, at), ...luminanceOf(disc) });
    }
  }
  return samples;
}

/** Luminance of a disc's channels; its noise taken as independent among them. */
export function luminanceOf(channels: readonly Measured[]): { readonly light: number; readonly u: number } {
  if (channels.length === 1) return { light: channels[0].value, u: channels[0].u };
  const [red, green, blue] = channels;
  return {
    light: LUMA_WEIGHTS.red * red.value + LUMA_WEIGHTS.green * green.value + LUMA_WEIGHTS.blue * blue.value,
    u: Math.hypot(LUMA_WEIGHTS.red * red.u, LUMA_WEIGHTS.green * green.u, LUMA_WEIGHTS.blue * blue.u),
  };
}

/** Mean luminance of a disc of the photograph, 0 to 1, with the standard uncertainty of its noise. */
export function sampleLuminance(pixels: Pixels, centre: Point, radius_px: number): Measured | undefined {
  const disc = sampleDisc(pixels, centre, radius_px);
  if (!disc) return undefined;
  const { light, u } = luminanceOf(disc);
  return { value: light, u };
}
