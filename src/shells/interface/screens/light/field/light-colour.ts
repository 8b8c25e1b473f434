/**
 * Colours for light over the picture: from a dark slate for little to a warm ivory for much, as the screen itself looks.
 * Lightness rises in even steps and alone tells the amount, so that it reads the same to colour-blind eyes and in grey; the
 * hues keep clear of the two eyes' orange and blue and of the reading's rose.
 */

/** sRGB, 0 to 255, about evenly spaced in lightness from CIE L* 15 to 93. */
const STOPS: readonly (readonly [number, number, number])[] = [
  [34, 38, 44],
  [62, 66, 70],
  [92, 94, 93],
  [124, 123, 115],
  [160, 154, 137],
  [198, 189, 163],
  [242, 234, 208],
];

/** `share` 0 for least, 1 for most; as CSS writes it. */
export function colourOfLight(share: number): string {
  const place = Math.min(1, Math.max(0, share)) * (STOPS.length - 1);
  const i = Math.min(STOPS.length - 2, Math.floor(place));
  const t = place - i;
  const mix = (c: 0 | 1 | 2) => Math.round(STOPS[i]![c] + t * (STOPS[i + 1]![c] - STOPS[i]![c]));
  return `rgb(${mix(0)} ${mix(1)} ${mix(2)})`;
}
