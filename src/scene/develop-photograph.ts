/**
 * What a camera makes of the light on its sensor before it writes a file. Each step is left out where its setting is.
 *
 *   lateral colour -> noise -> colour mosaic and its filling -> clipping -> denoising -> contrast -> local tones -> sharpening
 *
 * Steps after the clipping work on sRGB code values from 0 to 1, as cameras do.
 *
 * - mosaic: one colour a pixel (RGGB), the others from the nearest pixels of their colour (bilinear).
 * - denoising: the mean over 5 x 5 neighbours that differ by less than three times `threshold`, weighed by exp(-d^2 / (2 threshold^2)).
 * - contrast: v + c v (1 - v) (2 v - 1): an S about the middle grey; ends and middle stay.
 * - local tones: v (mean / 0.5)^-a with the mean of a large surrounding: dark surroundings are raised, bright ones lowered.
 * - sharpening: v + s (v - G_r v), an unsharp mask; edges get halos on both sides.
 */
import type { Pixels, Raster } from '../imaging/pixels.ts';
import { srgbFromLinear } from '../imaging/srgb.ts';
import type { RandomSource } from '../kernel/random.ts';
import { blurGaussian } from './blur.ts';
import type { Sensor } from './sensor.ts';

export interface Processing {
  /** How much larger red and blue are drawn than green by the camera's lens: 0.0003 is 0.6 px at the corner of six megapixels. */
  readonly lateralColour?: { readonly red: number; readonly blue: number };
  readonly mosaic?: boolean;
  readonly denoise?: { readonly threshold: number };
  readonly contrast?: number;
  readonly localTones?: { readonly amount: number; readonly radius_px: number };
  readonly sharpen?: { readonly amount: number; readonly radius_px: number };
}

/** The same light, settings and source give the same pixels. */
export function developPhotograph(light: Raster, sensor: Sensor, processing: Processing, random: RandomSource): Pixels {
  const { width, height } = light;
  const { lateralColour, mosaic, denoise, contrast, localTones, sharpen } = processing;
  const magnified = [1 + (lateralColour?.red ?? 0), 1, 1 + (lateralColour?.blue ?? 0)];
  let channels = magnified.map((scale, c) => addNoise(scale === 1 ? light : magnify(light, scale), sensor, c, random));
  if (mosaic) channels = fillMosaic(channels);
  for (const { data } of channels) {
    for (let i = 0; i < data.length; i++) data[i] = srgbFromLinear(Math.min(1, Math.max(0, data[i])));
  }
  if (denoise) channels = channels.map((channel) => meanOfAlike(channel, denoise.threshold));
  const steps: ((channel: Raster) => void)[] = [];
  if (contrast) steps.push((channel) => bendContrast(channel, contrast));
  if (localTones) steps.push((channel) => evenTones(channel, localTones.amount, localTones.radius_px));
  if (sharpen) steps.push((channel) => unsharp(channel, sharpen.amount, sharpen.radius_px));
  const data = new Uint8Array(width * height * 3);
  channels.forEach((channel, c) => {
    for (const step of steps) step(channel);
    for (let i = 0; i < channel.data.length; i++) {
      data[3 * i + c] = Math.round(255 * Math.min(1, Math.max(0, channel.data[i])));
    }
  });
  return { width, height, channels: 3, data };
}

function addNoise(light: Raster, sensor: Sensor, c: number, random: RandomSource): Raster {
  const fullScale = sensor.fullWell_e * sensor.channelSensitivity[c]!;
  const readVariance = sensor.readNoise_e ** 2;
  const data = new Float32Array(light.data.length);
  for (let i = 0; i < data.length; i++) {
    const mean = Math.max(0, light.data[i]) * fullScale;
    data[i] = ((mean + random.normal() * Math.sqrt(mean + readVariance)) * sensor.tint[c]!) / fullScale;
  }
  return { ...light, data };
}

/** The picture drawn larger about the photograph's middle (cubic convolution, Keys 1981). */
function magnify(source: Raster, scale: number): Raster {
  const { width, height } = source;
  const [cx, cy] = [(width - 1) / 2, (height - 1) / 2];
  const across = resampleRows(source, (x) => cx + (x - cx) / scale);
  const turned = transpose(across);
  return transpose(resampleRows(turned, (y) => cy + (y - cy) / scale));
}

function resampleRows({ width, height, data }: Raster, from: (x: number) => number): Raster {
  const out = new Float32Array(data.length);
  for (let x = 0; x < width; x++) {
    const at = from(x);
    const first = Math.floor(at) - 1;
    const t = at - first - 1;
    const weights = [
      -0.5 * t + t * t - 0.5 * t ** 3,
      1 - 2.5 * t * t + 1.5 * t ** 3,
      0.5 * t + 2 * t * t - 1.5 * t ** 3,
      -0.5 * t * t + 0.5 * t ** 3,
    ];
    const columns = weights.map((_, k) => Math.min(width - 1, Math.max(0, first + k)));
    for (let y = 0; y < height; y++) {
      let sum = 0;
      for (let k = 0; k < 4; k++) sum += weights[k]! * data[y * width + columns[k]!];
      out[y * width + x] = sum;
    }
  }
  return { width, height, data: out };
}

function transpose({ width, height, data }: Raster): Raster {
  const out = new Float32Array(data.length);
  for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) out[x * height + y] = data[y * width + x];
  return { width: height, height: width, data: out };
}

/** Which colour a pixel has: RGGB. */
function colourAt(x: number, y: number): number {
  return (x & 1) + (y & 1);
}

function fillMosaic(channels: readonly Raster[]): Raster[] {
  const { width, height } = channels[0]!;
  return channels.map((channel, c) => {
    const data = new Float32Array(width * height);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        let [sum, count] = [0, 0];
        const own = colourAt(x, y) === c;
        for (let dy = own ? 0 : -1; dy <= (own ? 0 : 1); dy++) {
          for (let dx = own ? 0 : -1; dx <= (own ? 0 : 1); dx++) {
            const [nx, ny] = [x + dx, y + dy];
            if (nx < 0 || ny < 0 || nx >= width || ny >= height || colourAt(nx, ny) !== c) continue;
            sum += channel.data[ny * width + nx];
            count++;
          }
        }
        data[y * width + x] = sum / count;
      }
    }
    return { width, height, data };
  });
}

function meanOfAlike({ width, height, data }: Raster, threshold: number): Raster {
  const out = new Float32Array(data.length);
  const reach = 3 * threshold;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const here = data[y * width + x];
      let [sum, weights] = [0, 0];
      for (let ny = Math.max(0, y - 2); ny <= Math.min(height - 1, y + 2); ny++) {
        for (let nx = Math.max(0, x - 2); nx <= Math.min(width - 1, x + 2); nx++) {
          const there = data[ny * width + nx];
          const off = there - here;
          if (Math.abs(off) > reach) continue;
          const weight = Math.exp((-off * off) / (2 * threshold * threshold));
          sum += weight * there;
          weights += weight;
        }
      }
      out[y * width + x] = sum / weights;
    }
  }
  return { width, height, data: out };
}

function bendContrast({ data }: Raster, amount: number): void {
  for (let i = 0; i < data.length; i++) {
    const v = data[i];
    data[i] = v + amount * v * (1 - v) * (2 * v - 1);
  }
}

function evenTones(channel: Raster, amount: number, radius_px: number): void {
  const { data } = channel;
  const mean = blurGaussian(channel, radius_px).data;
  for (let i = 0; i < data.length; i++) data[i] *= (Math.max(mean[i], 0.02) / 0.5) ** -amount;
}

function unsharp(channel: Raster, amount: number, radius_px: number): void {
  const { data } = channel;
  const soft = blurGaussian(channel, radius_px).data;
  for (let i = 0; i < data.length; i++) data[i] += amount * (data[i] - soft[i]);
}
