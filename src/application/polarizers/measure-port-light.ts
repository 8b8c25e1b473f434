/**
 * The light of one port in one photograph: the mean over its patch, less what surrounds it.
 *
 *   light = mean inside - mean over eight directions of the median in a ring around it
 *
 * Haloes of the other port and of the lens lie over both alike where they are straight; by how much they are not, the
 * directions of the ring differ, and half of that spread stands in the uncertainty.
 */
import type { Raster } from '../../imaging/pixels.ts';
import type { DownsampledLight } from '../../imaging/exposure.ts';
import type { Point } from '../../kernel/point.ts';
import { mean, median, standardDeviation } from '../../kernel/statistics.ts';
import type { PortLight } from '../../light/compare-ports.ts';
import type { Patch } from './find-ports.ts';

export interface SeenPort extends PortLight {
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

export function measurePortLight({ light, clipped }: DownsampledLight, patch: Patch, other: Patch): SeenPort {
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
