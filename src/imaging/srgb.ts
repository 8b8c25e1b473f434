/**
 * The sRGB transfer between the coded values of a file and linear light, both on the scale 0..1.
 *
 *   L = S / 12.92                       S <= 0.04045
 *   L = ((S + 0.055) / 1.055)^2.4       otherwise
 *   S = 12.92 L                         L <= 0.0031308
 *   S = 1.055 L^(1/2.4) - 0.055         otherwise
 *
 * S is the coded value, L the linear light, 1 = the brightest the file can hold. The standard's rounded thresholds
 * leave a step of about 2e-8 in L between the branches; there and back therefore agrees to 1e-7 near the break and to
 * rounding elsewhere. Values outside 0..1 are not clipped: negative ones run along the straight branch.
 *
 * Source: IEC 61966-2-1:1999.
 */

const LINEAR_SLOPE = 12.92;
const CODED_BREAK = 0.04045;
const LINEAR_BREAK = 0.0031308;
const OFFSET = 0.055;
const EXPONENT = 2.4;

export function linearFromSrgb(coded: number): number {
  return coded <= CODED_BREAK ? coded / LINEAR_SLOPE : ((coded + OFFSET) / (1 + OFFSET)) ** EXPONENT;
}

export function srgbFromLinear(linear: number): number {
  return linear <= LINEAR_BREAK ? linear * LINEAR_SLOPE : (1 + OFFSET) * linear ** (1 / EXPONENT) - OFFSET;
}

/** Linear light of every 8-bit code. */
export const LINEAR_FROM_8BIT: Float32Array = tabulateLinear(255);

let linearFrom16Bit: Float32Array | undefined;

/** Linear light of every 16-bit code; built at the first call because most photographs have 8 bits. */
export function linearFrom16BitTable(): Float32Array {
  linearFrom16Bit ??= tabulateLinear(65535);
  return linearFrom16Bit;
}

function tabulateLinear(fullScale: number): Float32Array {
  return Float32Array.from({ length: fullScale + 1 }, (_, code) => linearFromSrgb(code / fullScale));
}
