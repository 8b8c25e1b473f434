/**
 * Maps of a quantity over the picture: bands, contour lines and colours.
 *
 * Bands and contour lines of a quantity that is known at the nodes of a grid. Each cell is cut into two triangles, in
 * which the quantity is linear: no case is ambiguous, and neighbouring bands meet exactly.
 */
import type { Point } from '../kernel/point.ts';

export interface Nodes {
  readonly columns: number;
  readonly rows: number;
  /** Row by row; where the node is drawn, and the quantity there. */
  readonly points: readonly Point[];
  readonly values: readonly number[];
}

interface Vertex extends Point {
  readonly value: number;
}
type Triangle = readonly [number, number, number];

function* trianglesOf({ columns, rows }: Nodes): Generator<Triangle> {
  for (let row = 0; row + 1 < rows; row++) {
    for (let column = 0; column + 1 < columns; column++) {
      const a = row * columns + column;
      yield [a, a + 1, a + columns + 1];
      yield [a, a + columns + 1, a + columns];
    }
  }
}

const vertexOf = ({ points, values }: Nodes, i: number): Vertex => ({ ...points[i]!, value: values[i]! });

function between(a: Vertex, b: Vertex, level: number): Vertex {
  const t = (level - a.value) / (b.value - a.value);
  return { x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y), value: level };
}

/** Where `low` <= quantity <= `high`, as polygons that do not overlap. */
export function findBand(nodes: Nodes, low: number, high: number): readonly (readonly Point[])[] {
  const band: (readonly Point[])[] = [];
  for (const triangle of trianglesOf(nodes)) {
    const corners = triangle.map((i) => vertexOf(nodes, i));
    const inside = cut(
      cut(corners, low, (v) => v.value >= low),
      high,
      (v) => v.value <= high,
    );
    if (inside.length >= 3) band.push(inside);
  }
  return band;
}

/** Keeps the part of a polygon on one side of a level. */
function cut(polygon: readonly Vertex[], level: number, isKept: (v: Vertex) => boolean): Vertex[] {
  return polygon.flatMap((vertex, i) => {
    const next = polygon[(i + 1) % polygon.length]!;
    const kept = isKept(vertex) ? [vertex] : [];
    return isKept(vertex) === isKept(next) ? kept : [...kept, between(vertex, next, level)];
  });
}

/** The lines along which the quantity has the value `level`, each as a chain of points; closed ones end where they began. */
export function findContour(nodes: Nodes, level: number): readonly (readonly Point[])[] {
  const places = new Map<string, Point>();
  const neighbours = new Map<string, string[]>();
  for (const triangle of trianglesOf(nodes)) {
    const crossed = triangle.flatMap((from, i) => {
      const to = triangle[(i + 1) % 3]!;
      const [a, b] = [nodes.values[from]!, nodes.values[to]!];
      if (a >= level === b >= level) return [];
      const edge = `${Math.min(from, to)}-${Math.max(from, to)}`;
      places.set(edge, between(vertexOf(nodes, from), vertexOf(nodes, to), level));
      return [edge];
    });
    if (crossed.length !== 2) continue;
    const [a, b] = crossed as [string, string];
    neighbours.set(a, [...(neighbours.get(a) ?? []), b]);
    neighbours.set(b, [...(neighbours.get(b) ?? []), a]);
  }
  return chain(places, neighbours);
}

/** Open lines from their ends first, then what is left: closed ones. */
function chain(places: ReadonlyMap<string, Point>, neighbours: ReadonlyMap<string, readonly string[]>) {
  const seen = new Set<string>();
  const lines: Point[][] = [];
  const ends = [...neighbours.keys()].toSorted((a, b) => neighbours.get(a)!.length - neighbours.get(b)!.length);
  for (const start of ends) {
    if (seen.has(start)) continue;
    const line: Point[] = [];
    let at: string | undefined = start;
    let last = start;
    while (at !== undefined) {
      seen.add(at);
      line.push(places.get(at)!);
      last = at;
      at = neighbours.get(at)!.find((next) => !seen.has(next));
    }
    if (line.length > 2 && neighbours.get(last)!.includes(start)) line.push(line[0]!);
    lines.push(line);
  }
  return lines;
}

export type Colour = readonly [number, number, number];

export const cssColour = ([r, g, b]: Colour): string => `rgb(${r} ${g} ${b})`;

/** Colours between those given, which stand in even steps: sRGB, 0 to 255. `share` 0 for the first, 1 for the last. */
function scaleColours(stops: readonly Colour[]): (share: number) => Colour {
  return (share) => {
    const place = Math.min(1, Math.max(0, share)) * (stops.length - 1);
    const i = Math.min(stops.length - 2, Math.floor(place));
    const t = place - i;
    const mix = (c: 0 | 1 | 2) => Math.round(stops[i]![c] + t * (stops[i + 1]![c] - stops[i]![c]));
    return [mix(0), mix(1), mix(2)];
  };
}

/**
 * Colours for amounts: from a dark plum for nothing to a pale rose for much. Lightness alone tells the amount, rising in
 * even steps (CIE L* 18 to 93), so that it reads the same to colour-blind eyes and in grey; the hue keeps clear of the two
 * eyes' orange and blue. The sign is not in the colour: negative bands are hatched and every contour carries its signed number.
 */
export const colourOfAmount = scaleColours([
  [58, 32, 66],
  [97, 47, 100],
  [137, 66, 130],
  [175, 92, 156],
  [208, 127, 181],
  [234, 168, 206],
  [249, 226, 238],
]);

/**
 * Colours for light over the picture: from a dark slate for little to a warm ivory for much, as the screen itself looks.
 * Lightness rises in even steps (CIE L* 15 to 93) and alone tells the amount; the hues keep clear of the two eyes' orange
 * and blue and of the rose of amounts.
 */
export const colourOfLight = scaleColours([
  [34, 38, 44],
  [62, 66, 70],
  [92, 94, 93],
  [124, 123, 115],
  [160, 154, 137],
  [198, 189, 163],
  [242, 234, 208],
]);
