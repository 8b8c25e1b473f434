/** Light over a picture as a simulated metallic screen sends it to a seat, for the tests of evenness. */
import type { Point } from '../../src/kernel/point.ts';
import type { RandomSource } from '../../src/kernel/random.ts';
import type { LightSample } from '../../src/light/light-surface.ts';
import { screenGain } from '../../src/scene/light.ts';
import { layoutChart } from '../../src/target/chart.ts';

export const ASPECT = 2.35;
const { marks } = layoutChart(ASPECT);
export const LEFT_MARKS: readonly Point[] = marks.filter(({ eye }) => eye === 'left');
export const RIGHT_MARKS: readonly Point[] = marks.filter(({ eye }) => eye === 'right');

export interface Seat {
  /** From the screen's centre, ih. */
  readonly camera: { readonly x: number; readonly y: number; readonly z: number };
  readonly halfGain_deg?: number;
}

const PORT = { x: 0, y: 0.64, z: 6.1 };

export function gainAt({ camera, halfGain_deg = 14 }: Seat): (at: Point) => number {
  return (at) => screenGain({ mattPart: 0.15, halfGain_deg }, PORT, camera, at);
}

/** Samples with a relative noise of `relativeU`; without a random source exact ones that claim it. */
export function samplesOf(
  places: readonly Point[],
  lightAt: (at: Point) => number,
  relativeU: number,
  random?: RandomSource,
): LightSample[] {
  return places.map((at) => {
    const light = lightAt(at);
    return { at, light: light * (1 + relativeU * (random?.normal() ?? 0)), u: relativeU * light };
  });
}

export const SEATS: readonly Seat[] = [
  { camera: { x: 0, y: -0.1, z: 3.4 } },
  { camera: { x: 0.9, y: 0.1, z: 3.2 } },
  { camera: { x: -0.5, y: -0.3, z: 2.6 }, halfGain_deg: 11 },
  { camera: { x: 0.2, y: 0, z: 5.8 }, halfGain_deg: 18 },
];
