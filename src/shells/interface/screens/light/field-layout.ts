/**
 * The recorded field of light as a drawing: bands of equal light, contour lines at round percentages, and the places whose
 * numbers are written. Drawing units: one picture height is 1000; x right, y down from the picture's upper left corner.
 */
import type { Point } from '../../../../kernel/point.ts';
import type { EvennessPicture } from '../../../../record/evenness.ts';
import { type LightPlace, PLACE_NAMES } from '../../../../record/light-finding.ts';
import { findBand, findContour, type Nodes } from '../../../../drawings/contours.ts';

export const HEIGHT = 1000;
/** Percent of the centre's light. */
const BAND = 5;
const CONTOUR = 10;
/** What is asked of sides and corners has a line of its own. */
export const ASKED = 75;
/** Where the numbers of sides and corners stand, as parts of the picture inside its edges. */
const INSET = 0.05;

interface FieldDrawing {
  readonly width: number;
  readonly bands: readonly { readonly path: string; readonly colour: string }[];
  readonly contours: readonly { readonly level: number; readonly path: string }[];
  /** The line of what is asked; empty where all of the picture lies on one side of it. */
  readonly asked: string;
  readonly places: readonly (Point & { readonly place: LightPlace })[];
  readonly hotSpot: Point;
  /** Least and most of the scale. */
  readonly range: readonly [number, number];
}

export function layoutField({ field, hot_spot }: EvennessPicture, aspect: number): FieldDrawing {
  const width = HEIGHT * aspect;
  const { columns, rows, of_centre_pct: values } = field;
  const points = values.map((_, i) => ({
    x: ((i % columns) / (columns - 1)) * width,
    y: (Math.floor(i / columns) / (rows - 1)) * HEIGHT,
  }));
  const nodes: Nodes = { columns, rows, points, values };
  const low = BAND * Math.floor(Math.min(...values) / BAND);
  const high = BAND * Math.ceil(Math.max(...values) / BAND);
  const levels = (step: number, from: number, to: number) =>
    Array.from({ length: Math.max(0, Math.round((to - from) / step)) }, (_, i) => from + i * step);
  return {
    width,
    bands: levels(BAND, low, high).map((level) => ({
      path: findBand(nodes, level, level + BAND)
        .map(closed)
        .join(''),
      colour: colourOfLight((level + BAND / 2) / Math.max(100, high)),
    })),
    contours: levels(CONTOUR, CONTOUR * Math.ceil(low / CONTOUR), high)
      .filter((level) => level > low)
      .map((level) => ({ level, path: findContour(nodes, level).map(open).join('') })),
    asked: findContour(nodes, ASKED).map(open).join(''),
    places: PLACE_NAMES.map((place) => ({ place, ...placeAt(place, width) })),
    hotSpot: { x: (hot_spot.at[0] / aspect + 0.5) * width, y: (0.5 - hot_spot.at[1]) * HEIGHT },
    range: [low, high],
  };
}

function placeAt(place: LightPlace, width: number): Point {
  const side = (low: string, high: string) => (place.includes(high) ? 1 - INSET : place.includes(low) ? INSET : 0.5);
  return { x: side('left', 'right') * width, y: side('top', 'bottom') * HEIGHT };
}

const written = ({ x, y }: Point) => `${x.toFixed(1)} ${y.toFixed(1)}`;
const open = (line: readonly Point[]) => `M${line.map(written).join('L')}`;
const closed = (polygon: readonly Point[]) => `${open(polygon)}Z`;

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
