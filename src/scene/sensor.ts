/**
 * The simulated image sensor: photon noise, read noise, clipping, sRGB coding, eight bits.
 *
 *   mean  mu_e = L F s            electrons; L linear light, F full well, s the channel's sensitivity
 *   noise sigma_e^2 = mu_e + sigma_d^2
 *   value = (electrons / (F s)) * tint, clipped to 0..1, coded and rounded
 *
 * Photon noise is taken as normal, which above some thirty electrons it is; below, read noise covers the difference.
 * Every channel of every pixel has its own noise. The processing of a colour mosaic is left out.
 *
 * Reference: EMVA Standard 1288, linear camera model.
 */
import type { Pixels, Raster } from '../imaging/pixels.ts';
import { linearFromSrgb, srgbFromLinear } from '../imaging/srgb.ts';
import type { RandomSource } from '../kernel/random.ts';

export interface Sensor {
  /** Electrons of a channel of sensitivity 1 at linear light 1. */
  readonly fullWell_e: number;
  readonly readNoise_e: number;
  /** Red, green, blue; white is balanced afterwards. */
  readonly channelSensitivity: readonly [number, number, number];
  /** What is left of the light's colour after the balance. */
  readonly tint: readonly [number, number, number];
}

/** Takes the photograph of what falls on the sensor. The same source gives the same pixels. */
export function exposeSensor(light: Raster, sensor: Sensor, random: RandomSource): Pixels {
  const { width, height } = light;
  const data = new Uint8Array(width * height * 3);
  const normals = tableOfNormals();
  const { code, rises } = codingTable();
  const readVariance = sensor.readNoise_e ** 2;
  for (let c = 0; c < 3; c++) {
    const fullScale = sensor.fullWell_e * sensor.channelSensitivity[c];
    const fromElectrons = sensor.tint[c] / fullScale;
    for (let i = 0, o = c; i < light.data.length; i++, o += 3) {
      const mean = light.data[i] * fullScale;
      const bits = random.uniform() * 4294967296;
      const deviate = normals.radius[bits >>> 16] * normals.cosine[bits & 0xffff];
      const value = (mean + deviate * Math.sqrt(mean + readVariance)) * fromElectrons;
      if (value <= 0) continue;
      if (value >= 1) {
        data[o] = 255;
        continue;
      }
      const lower = code[(value * CODING_STEPS) | 0];
      data[o] = value >= rises[lower] ? lower + 1 : lower;
    }
  }
  return { width, height, channels: 3, data };
}

interface Normals {
  readonly radius: Float64Array;
  readonly cosine: Float64Array;
}
let normalTable: Normals | undefined;

/** Box and Muller's radius and cosine for 65536 equal parts of each of their two numbers. */
function tableOfNormals(): Normals {
  normalTable ??= {
    radius: Float64Array.from({ length: 65536 }, (_, i) => Math.sqrt(-2 * Math.log((i + 0.5) / 65536))),
    cosine: Float64Array.from({ length: 65536 }, (_, i) => Math.cos((2 * Math.PI * (i + 0.5)) / 65536)),
  };
  return normalTable;
}

const CODING_STEPS = 65536;
interface Coding {
  /** Code of the lower end of each step of linear light. */
  readonly code: Uint8Array;
  /** Linear light from which on the next code is nearer. */
  readonly rises: Float64Array;
}
let coding: Coding | undefined;

/** A step is shorter than the shortest code, so that at most one code begins within it. */
function codingTable(): Coding {
  coding ??= {
    code: Uint8Array.from({ length: CODING_STEPS }, (_, i) => Math.round(255 * srgbFromLinear(i / CODING_STEPS))),
    rises: Float64Array.from({ length: 256 }, (_, c) => (c < 255 ? linearFromSrgb((c + 0.5) / 255) : 2)),
  };
  return coding;
}
