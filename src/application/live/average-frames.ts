/**
 * The mean of frames as a photograph: light is averaged, not codes.
 *
 *   code = 65535 S( 1/n sum_i L(code_i) )        L, S: sRGB's transfer and its inverse
 *
 * The mean of codes would be too bright along edges and so thicken bright quadrants by part of the blur. Of n frames of
 * independent noise the mean has 1/sqrt(n) of it, and the noise of 8-bit frames spreads the rounding, so that the mean
 * needs its 16 bits. A pixel that is clipped in half of the frames or more is written as clipped: the mean of what is
 * left would claim a brightness that nobody saw. One clipped now and then by noise keeps its mean, which is then too
 * low by less than that noise.
 */
import { CLIPPING_CODE } from '../../imaging/exposure.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { LINEAR_FROM_8BIT, srgbFromLinear } from '../../imaging/srgb.ts';

/** Sums of 2^24 times the light hold 256 frames in 32 bits. */
const UNIT = 2 ** 24 - 1;
const MAX_FRAMES = 255;
const LIGHT = Uint32Array.from(LINEAR_FROM_8BIT, (light) => Math.round(UNIT * light));

const FULL = 65535;
/** Between neighbours of this table the transfer is straight to a thousandth of a 16-bit code. */
const STEPS = 65536;
let coding: Float32Array | undefined;

export class FrameMean {
  readonly width: number;
  readonly height: number;
  #count = 0;
  readonly #sums: Uint32Array;
  readonly #clipped: Uint8Array;

  constructor(width: number, height: number) {
    this.width = width;
    this.height = height;
    this.#sums = new Uint32Array(width * height);
    this.#clipped = new Uint8Array(width * height);
  }

  get count(): number {
    return this.#count;
  }

  /** `codes`: grey, full range, of the size given at the beginning. Throws RangeError for others and beyond 255 frames. */
  add(codes: Uint8Array): void {
    if (codes.length !== this.#sums.length) throw new RangeError(`${codes.length} codes for ${this.#sums.length}`);
    if (this.#count === MAX_FRAMES) throw new RangeError(`no more than ${MAX_FRAMES} frames`);
    const sums = this.#sums;
    const clipped = this.#clipped;
    for (let i = 0; i < codes.length; i++) {
      const code = codes[i];
      sums[i] += LIGHT[code];
      if (code >= CLIPPING_CODE) clipped[i]++;
    }
    this.#count++;
  }

  /** Throws RangeError while nothing was added. */
  toPixels(): Pixels {
    if (this.#count === 0) throw new RangeError('no frames');
    coding ??= Float32Array.from({ length: STEPS + 2 }, (_, i) => FULL * srgbFromLinear(i / STEPS));
    const data = new Uint16Array(this.#sums.length);
    const scale = STEPS / (this.#count * UNIT);
    for (let i = 0; i < data.length; i++) {
      const place = this.#sums[i] * scale;
      const step = Math.floor(place);
      const code = coding[step] + (place - step) * (coding[step + 1] - coding[step]);
      data[i] = 2 * this.#clipped[i] >= this.#count ? FULL : Math.min(FULL, Math.round(code));
    }
    return { width: this.width, height: this.height, channels: 1, data };
  }
}
