/**
 * Port shots: two photographs of the attachment's front, one through each lens of the glasses, from which port is dark to
 * which eye.
 *
 *   photographs -> ports -> light of each port through each lens -> verdict
 *
 * There is no target in them. Camera, zoom and exposure stay as they are between the two.
 */
import { type Patch, findPorts } from './find-ports.ts';
import { exposureOf } from '../shot/judge-camera.ts';
import type { PhotoSource } from '../shot/read-photographs.ts';
import type { Raster } from '../../imaging/pixels.ts';
import { downsampleLight, type DownsampledLight } from '../../imaging/exposure.ts';
import type { Eye } from '../../kernel/eye.ts';
import type { Measured } from '../../kernel/measured.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { mean, median, standardDeviation } from '../../kernel/statistics.ts';
import {
  type ComparedPorts,
  PORT_PLACES,
  type PortLight,
  type PortPlace,
  comparePorts,
} from '../../light/compare-ports.ts';
import type { CameraFacts, Photo } from '../../photo/photo.ts';
import { readPhoto } from '../../photo/read-photo.ts';

export interface PortShots {
  readonly left: PhotoSource;
  readonly right: PhotoSource;
}

/** `steadiness-unknown`: no port shows in both photographs, so that nothing tells whether the camera kept still. */
export type PortNote = 'exposure-differs' | 'exposure-unknown' | 'burnt-out' | 'steadiness-unknown';

export interface PlacedPort {
  /** Photo px. */
  readonly centre: Point;
  readonly radius_px: number;
}

export type PortShotsResult =
  | {
      readonly outcome: 'compared';
      readonly ports: ComparedPorts;
      readonly arrangement: 'above' | 'beside';
      readonly places: Readonly<Record<PortPlace, PlacedPort>>;
      /** Upright, of both photographs. */
      readonly size: { readonly width_px: number; readonly height_px: number };
      readonly notes: readonly PortNote[];
    }
  | { readonly outcome: 'refused'; readonly refusal: Refusal<string>; readonly lens: Eye | null };

/** Longer side of the coarse pictures, about, px. */
const COARSE_PX = 900;
/** A port whose light stands apart in the two photographs by more than this part of its radius was moved. */
const MAX_MOVED = 0.35;
/** How well a camera repeats an exposure, lamp and shutter together; and how alike two are that were set by hand and not written down. Assumptions of ours. */
const KNOWN_EXPOSURE_U = 0.05;
const UNKNOWN_EXPOSURE_U = 0.15;

export async function comparePortShots({ left, right }: PortShots): Promise<PortShotsResult> {
  const refused = (refusal: Refusal<string>, lens: Eye | null): PortShotsResult => ({
    outcome: 'refused',
    refusal,
    lens,
  });
  const a = await shrinkPhoto(left);
  if (a.outcome === 'refused') return refused(a, 'left');
  const b = await shrinkPhoto(right);
  if (b.outcome === 'refused') return refused(b, 'right');
  if (a.sha256 === b.sha256) return refused(refuse('same-photo-twice'), null);
  if (a.width !== b.width || a.height !== b.height) return refused(refuse('different-size'), null);

  const patches = findPorts([a.shrunk.light, b.shrunk.light]);
  if (patches.outcome === 'refused') return refused(patches, null);
  const see = (place: PortPlace, of: DownsampledLight): SeenPort =>
    measurePortLight(of, patches[place], patches[place === 'first' ? 'second' : 'first']);
  const seen = (place: PortPlace) => ({ left: see(place, a.shrunk), right: see(place, b.shrunk) });
  const ports = { first: seen('first'), second: seen('second') };
  const moved_px = PORT_PLACES.map((place) => movementOf(ports[place], patches[place], a.factor));
  const known = moved_px.filter((movement) => movement !== null);
  if (known.some(({ isMoved }) => isMoved)) {
    return refused(refuse('camera-moved', { moved_px: Math.max(...known.map(({ by_px }) => by_px)) }), null);
  }
  const burnt = PORT_PLACES.filter((place) => ports[place].left.isClipped && ports[place].right.isClipped);
  if (burnt.length > 0) return refused(refuse('overexposed'), null);

  const exposure = compareExposure(a.camera, b.camera);
  const isBurnt = PORT_PLACES.some((place) => ports[place].left.isClipped || ports[place].right.isClipped);
  const notes: (PortNote | undefined)[] = [
    exposure.note,
    isBurnt ? 'burnt-out' : undefined,
    known.length === 0 ? 'steadiness-unknown' : undefined,
  ];
  return {
    outcome: 'compared',
    ports: comparePorts({ ...ports, logExposure: exposure.log }),
    arrangement: patches.arrangement,
    places: { first: placeOf(patches.first, a.factor), second: placeOf(patches.second, a.factor) },
    size: { width_px: a.width, height_px: a.height },
    notes: notes.filter((note) => note !== undefined),
  };
}

interface ShrunkPhoto extends Pick<Photo, 'sha256' | 'width' | 'height' | 'camera'> {
  readonly outcome: 'read';
  readonly shrunk: DownsampledLight;
  readonly factor: number;
}

async function shrinkPhoto({ path }: PhotoSource): Promise<ShrunkPhoto | Refusal<string>> {
  const read = await readPhoto(path);
  if (read.outcome === 'refused') return read;
  const { sha256, width, height, camera, pixels } = read.photo;
  const factor = Math.max(1, Math.floor(Math.max(width, height) / COARSE_PX));
  return { outcome: 'read', sha256, width, height, camera, factor, shrunk: downsampleLight(pixels, factor) };
}

/** How far the port's light stands apart in the two photographs; null where one of them does not show it. */
function movementOf({ left, right }: Readonly<Record<Eye, SeenPort>>, { radius }: Patch, factor: number) {
  if (!left.centre || !right.centre) return null;
  const by = Math.hypot(left.centre.x - right.centre.x, left.centre.y - right.centre.y);
  return { by_px: factor * by, isMoved: by > MAX_MOVED * radius };
}

/** Logarithm of the exposure through the right lens over that through the left one. */
function compareExposure(left: CameraFacts, right: CameraFacts): { log: Measured; note: PortNote | undefined } {
  const [a, b] = [exposureOf(left), exposureOf(right)];
  if (a === undefined || b === undefined) return { log: { value: 0, u: UNKNOWN_EXPOSURE_U }, note: 'exposure-unknown' };
  const value = Math.log(b / a);
  return { log: { value, u: KNOWN_EXPOSURE_U }, note: value === 0 ? undefined : 'exposure-differs' };
}

function placeOf({ centre, radius }: Patch, factor: number): PlacedPort {
  const inPhoto = (coarse: number) => factor * coarse + (factor - 1) / 2;
  return { centre: { x: inPhoto(centre.x), y: inPhoto(centre.y) }, radius_px: factor * radius };
}

interface SeenPort extends PortLight {
  /** Where its light stands in this photograph, coarse pixels; null where it is too faint to have a place. */
  readonly centre: Point | null;
}

/** Soft edges reach so many places out of a patch. */
const GAP = 2;
/** Width of the ring, as a part of the patch's radius. */
const RING_PART = 0.7;
const MIN_RING = 3;
const SECTORS = 8;
const FEWEST_IN_SECTOR = 3;
/** Part of the patch that may be burnt out before its light is only a lower bound. */
const MAX_CLIPPED = 0.02;
/** One code of eight bits in the black: light below it leaves no trace. */
const MIN_U = 3e-4;
/** A light must stand out so many times its uncertainty before its place means anything. */
const MIN_SIGNIFICANCE = 8;

/**
 * The light of one port in one photograph: the mean over its patch, less what surrounds it.
 *
 * light = mean inside - mean over eight directions of the median in a ring around it
 *
 * Haloes of the other port and of the lens lie over both alike where they are straight; by how much they are not, the
 * directions of the ring differ, and half of that spread stands in the uncertainty.
 */
function measurePortLight({ light, clipped }: DownsampledLight, patch: Patch, other: Patch): SeenPort {
  const inside = erode(patch, light);
  const near = grow(patch.places, GAP, light);
  const ring = grow([...near], Math.max(MIN_RING, Math.round(RING_PART * patch.radius)), light);
  const avoided = grow(other.places, 2 * GAP, light);
  for (const at of near) ring.delete(at);
  for (const at of avoided) ring.delete(at);
  const directions = directionMedians(ring, patch.centre, light);
  const ground = directions.length > 0 ? mean(directions) : 0;
  const groundU = directions.length > 1 ? standardDeviation(directions) / 2 : ground;
  const values = inside.map((at) => light.data[at]);
  const value = mean(values) - ground;
  const u = Math.hypot(groundU, MIN_U);
  const isSeen = value > MIN_SIGNIFICANCE * u;
  return {
    light: { value, u },
    isClipped: mean(inside.map((at) => clipped.data[at])) > MAX_CLIPPED,
    centre: isSeen ? centreOf(near, ground, light) : null,
  };
}

/** Places whose four neighbours all belong to the patch; all of them where none are left. */
function erode({ places }: Patch, { width }: Raster): readonly number[] {
  const all = new Set(places);
  const inner = places.filter((at) => [at - 1, at + 1, at - width, at + width].every((next) => all.has(next)));
  return inner.length > 0 ? inner : places;
}

/** The places with all those within so many steps of them, sideways and up and down in turn with corners. */
function grow(places: readonly number[], steps: number, { width, height }: Raster): Set<number> {
  const grown = new Set(places);
  let edge = [...places];
  for (let step = 0; step < steps; step++) {
    const next: number[] = [];
    for (const at of edge) {
      const [x, y] = [at % width, Math.floor(at / width)];
      for (const [dx, dy] of step % 2 === 0 ? SIDES : CORNERS) {
        const [nx, ny] = [x + dx, y + dy];
        const to = ny * width + nx;
        if (nx < 0 || ny < 0 || nx >= width || ny >= height || grown.has(to)) continue;
        grown.add(to);
        next.push(to);
      }
    }
    edge = next;
  }
  return grown;
}

const SIDES = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;
const CORNERS = [...SIDES, [1, 1], [1, -1], [-1, 1], [-1, -1]] as const;

function directionMedians(ring: ReadonlySet<number>, centre: Point, { width, data }: Raster): number[] {
  const sectors: number[][] = Array.from({ length: SECTORS }, () => []);
  for (const at of ring) {
    const angle = Math.atan2(Math.floor(at / width) - centre.y, (at % width) - centre.x);
    sectors[Math.floor((SECTORS * (angle + Math.PI)) / (2 * Math.PI)) % SECTORS].push(data[at]);
  }
  return sectors.filter((sector) => sector.length >= FEWEST_IN_SECTOR).map(median);
}

function centreOf(places: ReadonlySet<number>, ground: number, { width, data }: Raster): Point {
  let [sum, x, y] = [0, 0, 0];
  for (const at of places) {
    const weight = Math.max(0, data[at] - ground);
    sum += weight;
    x += weight * (at % width);
    y += weight * Math.floor(at / width);
  }
  return { x: x / sum, y: y / sum };
}
