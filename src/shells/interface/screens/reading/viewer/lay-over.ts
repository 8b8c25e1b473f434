/**
 * Two photographs laid over each other: the left lens's light in orange, the right lens's in blue, added as light. The two
 * colours add up to white, so what both show alike is white and what only one shows is coloured.
 */
import { LINEAR_FROM_8BIT, srgbFromLinear } from '../../../../../imaging/srgb.ts';
import type { Plane } from './luminance-plane.ts';

/** Linear light, red, green, blue; together 1, 1, 1. The same two as in the report. */
export const ORANGE = [1, 0.42, 0.03] as const;
export const BLUE = [0, 0.58, 0.97] as const;

const FULL = 4095;
/** Each photograph is cut off at white before the two are added, so that no sum goes beyond twice white. */
const CODE_OF_SUM = Uint8ClampedArray.from({ length: 2 * FULL + 2 }, (_, i) =>
  Math.round(255 * srgbFromLinear(Math.min(1, i / FULL))),
);

/** What a code of one photograph adds to each colour. */
export interface Tint {
  readonly red: Uint16Array;
  readonly green: Uint16Array;
  readonly blue: Uint16Array;
}

/** `gain` multiplies the light: 1 / white shows white as white. */
export function makeTint([red, green, blue]: readonly [number, number, number], gain: number): Tint {
  const table = (part: number) =>
    Uint16Array.from(LINEAR_FROM_8BIT, (linear) => Math.round(FULL * part * Math.min(1, gain * linear)));
  return { red: table(red), green: table(green), blue: table(blue) };
}

export interface TintedPlane {
  readonly plane: Plane;
  readonly tint: Tint;
}

/** Source rectangle in pixels of the planes. */
export interface Patch {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** RGBA of a patch of one photograph or of both added; what lies outside a plane is black. */
export function layOver(shown: readonly TintedPlane[], patch: Patch): Uint8ClampedArray<ArrayBuffer> {
  const out = new Uint8ClampedArray(4 * patch.width * patch.height);
  const [first, second] = shown;
  for (let y = 0; y < patch.height; y++) {
    for (let x = 0, k = 4 * y * patch.width; x < patch.width; x++, k += 4) {
      const a = codeAt(first, patch.x + x, patch.y + y);
      const b = codeAt(second, patch.x + x, patch.y + y);
      out[k] = CODE_OF_SUM[partOf(first?.tint.red, a) + partOf(second?.tint.red, b)]!;
      out[k + 1] = CODE_OF_SUM[partOf(first?.tint.green, a) + partOf(second?.tint.green, b)]!;
      out[k + 2] = CODE_OF_SUM[partOf(first?.tint.blue, a) + partOf(second?.tint.blue, b)]!;
      out[k + 3] = 255;
    }
  }
  return out;
}

function codeAt(shown: TintedPlane | undefined, x: number, y: number): number {
  if (shown === undefined) return 0;
  const { width, height, data } = shown.plane;
  return x < 0 || y < 0 || x >= width || y >= height ? 0 : data[y * width + x]!;
}

function partOf(table: Uint16Array | undefined, code: number): number {
  return table === undefined ? 0 : table[code]!;
}
