/**
 * The recorded field of light as a drawing: bands of equal light, contour lines at round percentages, and the places whose
 * numbers are written. Drawing units: one picture height is 1000; x right, y down from the picture's upper left corner.
 */
import { colourOfLight, cssColour, findBand, findContour, type Nodes } from '../../../../drawings/field-map.ts';
import type { Point } from '../../../../kernel/point.ts';
import type { EvennessPicture } from '../../../../record/evenness.ts';
import { LIGHT_PLACES, type LightPlace } from '../../../../record/light-codes.ts';

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
      colour: cssColour(colourOfLight((level + BAND / 2) / Math.max(100, high))),
    })),
    contours: levels(CONTOUR, CONTOUR * Math.ceil(low / CONTOUR), high)
      .filter((level) => level > low)
      .map((level) => ({ level, path: findContour(nodes, level).map(open).join('') })),
    asked: findContour(nodes, ASKED).map(open).join(''),
    places: LIGHT_PLACES.map((place) => ({ place, ...placeAt(place, width) })),
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
