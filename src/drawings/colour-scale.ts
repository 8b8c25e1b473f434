/**
 * Colours for amounts: from a dark plum for nothing to a pale rose for much. Lightness alone tells the amount, rising in
 * even steps, so that it reads the same to colour-blind eyes and in grey; the hue keeps clear of the two eyes' orange and
 * blue. The sign is not in the colour: negative bands are hatched and every contour carries its signed number.
 */

/** sRGB, 0 to 255, evenly spaced in lightness from CIE L* 18 to 93. */
const STOPS: readonly (readonly [number, number, number])[] = [
  [58, 32, 66],
  [97, 47, 100],
  [137, 66, 130],
  [175, 92, 156],
  [208, 127, 181],
  [234, 168, 206],
  [249, 226, 238],
];

export type Colour = readonly [number, number, number];

/** `share` 0 for nothing, 1 for most. */
export function colourOfAmount(share: number): Colour {
  const place = Math.min(1, Math.max(0, share)) * (STOPS.length - 1);
  const i = Math.min(STOPS.length - 2, Math.floor(place));
  const t = place - i;
  const mix = (c: 0 | 1 | 2) => Math.round(STOPS[i]![c] + t * (STOPS[i + 1]![c] - STOPS[i]![c]));
  return [mix(0), mix(1), mix(2)];
}

export const cssColour = ([r, g, b]: Colour): string => `rgb(${r} ${g} ${b})`;
