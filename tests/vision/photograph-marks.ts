/**
 * Photographs of marks for the tests of vision: exact area coverage on a finer raster, Gaussian blur, then the mean over
 * each pixel, so that sub-pixel places are as true as in a camera. Straight lines stay straight: no lens distortion.
 */
import type { Pixels } from '../../src/imaging/pixels.ts';
import { srgbFromLinear } from '../../src/imaging/srgb.ts';
import { type Homography, transfer } from '../../src/kernel/homography.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { plainLens, type View } from '../../src/kernel/view.ts';
import { blurGaussian } from '../../src/scene/blur.ts';
import { drawMark } from '../../src/target/draw-picture.ts';
import type { Mark } from '../../src/target/chart.ts';
import { rasterise } from '../../src/target/rasterise.ts';

export interface MarkPhotograph {
  readonly width: number;
  readonly height: number;
  readonly photoFromChart: Homography;
  /** Standard deviation, px, before the pixels' own extent is added. */
  readonly blur_px: number;
  /** Light of the black, linear. */
  readonly dark: number;
  /** Bright minus dark, linear. */
  readonly contrast: number;
  /** Raster cells across a pixel; more is truer and slower. */
  readonly fineness: number;
}

/** Linear light of the marks, row by row. */
export function lightOfMarks(marks: readonly Mark[], photo: MarkPhotograph): Float64Array {
  const { width, height, photoFromChart, blur_px, dark, contrast, fineness } = photo;
  const toPixel = (p: Point) => {
    const { x, y } = transfer(photoFromChart, p);
    return { x: fineness * x + (fineness - 1) / 2, y: fineness * y + (fineness - 1) / 2 };
  };
  const sharp = rasterise(marks.map(drawMark), { width: fineness * width, height: fineness * height, toPixel });
  const fine = blurGaussian(sharp, fineness * blur_px);
  const light = new Float64Array(width * height).fill(dark);
  const share = contrast / (fineness * fineness);
  for (let i = 0; i < fine.data.length; i++) {
    const row = Math.floor(i / fine.width / fineness);
    light[row * width + Math.floor((i % fine.width) / fineness)] += share * fine.data[i];
  }
  return light;
}

/** Grey pixels, sRGB-coded. 16 bits hardly round; 8 bits are what cameras write. */
export function pixelsOf(light: ArrayLike<number>, width: number, height: number, bits: 8 | 16 = 16): Pixels {
  const most = bits === 8 ? 255 : 65535;
  const codes = bits === 8 ? new Uint8Array(width * height) : new Uint16Array(width * height);
  for (let i = 0; i < codes.length; i++) {
    codes[i] = Math.round(most * srgbFromLinear(Math.min(1, Math.max(0, light[i]))));
  }
  return { width, height, channels: 1, data: codes };
}

export function photographMarks(marks: readonly Mark[], photo: MarkPhotograph, bits: 8 | 16 = 16): Pixels {
  return pixelsOf(lightOfMarks(marks, photo), photo.width, photo.height, bits);
}

/** Adds normal noise whose variance is `floor` squared plus `photon` times the light. */
export function addNoise(
  light: ArrayLike<number>,
  noise: { readonly floor: number; readonly photon: number },
  seed: number,
): Float64Array {
  const random = createRandom(seed);
  return Float64Array.from(light, (v) => v + Math.sqrt(noise.floor ** 2 + noise.photon * v) * random.normal());
}

export function viewOf({
  photoFromChart,
  width,
  height,
}: Pick<MarkPhotograph, 'photoFromChart' | 'width' | 'height'>): View {
  return { photoFromChart, lens: plainLens(width, height) };
}

/** A view square on to the chart: `scale` px to the ih, chart origin at `centre`, turned counter-clockwise as seen. */
export function squareView(scale: number, centre: Point, turn_deg = 0): Homography {
  const angle = (turn_deg * Math.PI) / 180;
  const [c, s] = [scale * Math.cos(angle), scale * Math.sin(angle)];
  return [c, -s, centre.x, -s, -c, centre.y, 0, 0, 1];
}

/**
 * A view of the chart around the origin, seen at `tilt_deg` from the normal with the line of sight leaning towards
 * `towards_deg` of the chart, from ten picture heights away; `scale` px to the ih across the line of sight.
 */
export function obliqueView(
  scale: number,
  centre: Point,
  tilt_deg: number,
  towards_deg: number,
  turn_deg = 0,
): Homography {
  const tilt = (tilt_deg * Math.PI) / 180;
  const towards = (towards_deg * Math.PI) / 180;
  const turn = (turn_deg * Math.PI) / 180;
  const distance = 10;
  const [ct, st] = [Math.cos(towards), Math.sin(towards)];
  // Along the lean the chart is foreshortened by cos(tilt) and runs away from the camera by sin(tilt).
  const along = [ct * Math.cos(tilt), st * Math.cos(tilt)];
  const across = [-st, ct];
  const away = [(ct * Math.sin(tilt)) / distance, (st * Math.sin(tilt)) / distance];
  const [c, s] = [Math.cos(turn + towards), Math.sin(turn + towards)];
  const x = [0, 1].map((i) => scale * (c * along[i] - s * across[i]));
  const y = [0, 1].map((i) => -scale * (s * along[i] + c * across[i]));
  return [
    x[0] + centre.x * away[0],
    x[1] + centre.x * away[1],
    centre.x,
    y[0] + centre.y * away[0],
    y[1] + centre.y * away[1],
    centre.y,
    away[0],
    away[1],
    1,
  ];
}

/** A mark of the given eye at the chart's origin. */
export function markAtOrigin(eye: Mark['eye'], word: number, radius = 0.045): Mark {
  return { id: `${eye}-at-origin`, eye, kind: 'inner', x: 0, y: 0, radius, word };
}
