/** Luma of a frame, from whatever form the camera's frames have. */

/** Formats of WebCodecs whose first plane is luma, one byte a pixel. */
const LUMA_FIRST: readonly string[] = ['I420', 'I420A', 'I422', 'I422A', 'I444', 'I444A', 'NV12', 'NV12A'];
const RED_FIRST: readonly string[] = ['RGBA', 'RGBX'];
const BLUE_FIRST: readonly string[] = ['BGRA', 'BGRX'];

/** How the bytes of a frame become luma; `unknown` formats go by way of a canvas. */
export function layoutOf(format: string | null): 'luma-first' | 'red-first' | 'blue-first' | 'unknown' {
  if (format === null) return 'unknown';
  if (LUMA_FIRST.includes(format)) return 'luma-first';
  if (RED_FIRST.includes(format)) return 'red-first';
  return BLUE_FIRST.includes(format) ? 'blue-first' : 'unknown';
}

/** Weights of ITU-R BT.709 for coded red, green and blue, in parts of 65536; together 65536. */
const RED = 13933;
const GREEN = 46871;
const BLUE = 4732;

/** Four bytes a pixel to luma in full range. */
export function lumaOfColours(colours: Uint8Array | Uint8ClampedArray, isBlueFirst: boolean): Uint8Array {
  const luma = new Uint8Array(colours.length / 4);
  const [first, third] = isBlueFirst ? [BLUE, RED] : [RED, BLUE];
  for (let i = 0, at = 0; i < luma.length; i++, at += 4) {
    luma[i] = (first * colours[at]! + GREEN * colours[at + 1]! + third * colours[at + 2]! + 32768) >> 16;
  }
  return luma;
}

/** Beyond these codes there is next to nothing in video range but the noise of black and the overshoot of edges. */
const BELOW_BLACK = 10;
const ABOVE_WHITE = 245;
/** Of the frame's pixels, beyond them. The target's black is most of a frame, its white about a tenth. */
const TELLING_PART = 0.01;
const STEP = 97;

/**
 * Video or full range. What the frame says of itself is believed unless its codes contradict it: cameras that send JPEGs
 * fill the whole scale, and not every driver passes that on.
 */
export function rangeOf(luma: Uint8Array, isFull: boolean | null): 'video' | 'full' {
  if (isFull) return 'full';
  let beyond = 0;
  let count = 0;
  for (let i = 0; i < luma.length; i += STEP, count++) {
    if (luma[i]! < BELOW_BLACK || luma[i]! > ABOVE_WHITE) beyond++;
  }
  return beyond > TELLING_PART * count ? 'full' : 'video';
}
