/**
 * The two ports of the attachment in photographs of its front: two bright patches, one above the other or side by side.
 *
 *   photographs, coarse, each over its own brightest place -> the brighter of them at each place -> patches above a
 *   threshold -> exactly two that could be ports
 *
 * Through one lens of the glasses the one port shines and through the other one the other, so that both together show both.
 * Where haloes run the patches into one, the threshold is raised until they part.
 */
import type { Raster } from '../../imaging/pixels.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';

/** A patch of the coarse picture, in its pixels. */
export interface Patch {
  readonly centre: Point;
  /** Indices into the coarse picture. */
  readonly places: readonly number[];
  /** Of a disc of the same area. */
  readonly radius: number;
}

export interface PortPatches {
  readonly outcome: 'found';
  /** The upper or, side by side, the left one first. */
  readonly first: Patch;
  readonly second: Patch;
  readonly arrangement: 'above' | 'beside';
}

export type PortsRefusal = Refusal<
  'no-ports' | 'one-port-only' | 'too-many-lights' | 'ports-too-small' | 'underexposed'
>;

/** A photograph whose brightest place stays below this part of full light shows noise, and is not looked for ports in. */
const MIN_LIGHT = 0.02;
/** Parts of the brightest place from which on a place belongs to a patch. */
const THRESHOLDS = [0.25, 0.4, 0.55];
/** Ports of one attachment have about the same size; a lamp or a reflection mostly has not. */
const MAX_AREA_RATIO = 6;
/** What is smaller than this part of the larger patch is a spark, and not a third light. */
const SPARK = 0.08;
/** Fewest places of a port. */
const MIN_PLACES = 9;

/** `pictures`: the same coarse size, linear light. */
export function findPorts(pictures: readonly Raster[]): PortPatches | PortsRefusal {
  const lit = pictures.map((picture) => ({ picture, peak: peakOf(picture) })).filter(({ peak }) => peak >= MIN_LIGHT);
  if (lit.length === 0) {
    return refuse('underexposed', { brightest_pct: 100 * Math.max(...pictures.map(peakOf)) });
  }
  const { width, height } = lit[0].picture;
  const both = new Float32Array(width * height);
  for (const { picture, peak } of lit) {
    for (let i = 0; i < both.length; i++) both[i] = Math.max(both[i], picture.data[i] / peak);
  }
  let refusal: PortsRefusal = refuse('no-ports');
  for (const [k, threshold] of THRESHOLDS.entries()) {
    const patches = listPatches({ width, height, data: both }, threshold);
    const found = choosePorts(patches);
    if (found.outcome === 'found') return found;
    // What the lowest threshold shows is what there is; higher ones only part what runs together.
    if (k === 0) refusal = found;
    if (found.code !== 'one-port-only') break;
  }
  return refusal;
}

function choosePorts(patches: readonly Patch[]): PortPatches | PortsRefusal {
  const [largest] = patches.toSorted((a, b) => b.places.length - a.places.length);
  if (!largest) return refuse('no-ports');
  const lights = patches.filter(({ places }) => places.length > SPARK * largest.places.length);
  if (lights.length === 1) {
    return largest.places.length < MIN_PLACES ? refuse('ports-too-small') : refuse('one-port-only');
  }
  if (lights.length > 2) return refuse('too-many-lights', { lights: lights.length });
  const [a, b] = lights;
  if (largest.places.length > MAX_AREA_RATIO * Math.min(a.places.length, b.places.length)) {
    return refuse('too-many-lights', { lights: 2 });
  }
  if (Math.min(a.places.length, b.places.length) < MIN_PLACES) return refuse('ports-too-small');
  const [dx, dy] = [Math.abs(a.centre.x - b.centre.x), Math.abs(a.centre.y - b.centre.y)];
  const arrangement = dy >= dx ? 'above' : 'beside';
  const isInOrder = arrangement === 'above' ? a.centre.y <= b.centre.y : a.centre.x <= b.centre.x;
  return { outcome: 'found', arrangement, first: isInOrder ? a : b, second: isInOrder ? b : a };
}

/** Connected places (by their sides) above the threshold. */
function listPatches({ width, height, data }: Raster, threshold: number): Patch[] {
  const seen = new Uint8Array(data.length);
  const patches: Patch[] = [];
  for (let start = 0; start < data.length; start++) {
    if (seen[start] || data[start] < threshold) continue;
    const places = [start];
    seen[start] = 1;
    for (let k = 0; k < places.length; k++) {
      const at = places[k];
      const x = at % width;
      const neighbours = [x > 0 ? at - 1 : -1, x + 1 < width ? at + 1 : -1, at - width, at + width];
      for (const next of neighbours) {
        if (next < 0 || next >= width * height || seen[next] || data[next] < threshold) continue;
        seen[next] = 1;
        places.push(next);
      }
    }
    patches.push(describePatch(places, width));
  }
  return patches;
}

function describePatch(places: readonly number[], width: number): Patch {
  let [x, y] = [0, 0];
  for (const at of places) {
    x += at % width;
    y += Math.floor(at / width);
  }
  const count = places.length;
  return { centre: { x: x / count, y: y / count }, places, radius: Math.sqrt(count / Math.PI) };
}

function peakOf({ data }: Raster): number {
  let peak = 0;
  for (const light of data) if (light > peak) peak = light;
  return peak;
}
