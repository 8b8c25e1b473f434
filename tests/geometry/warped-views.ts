/**
 * Both eyes' marks as a camera sees them on screens that are no planes, through lenses that bend, from prints that err:
 * plain optics, written apart from the model that is fitted.
 *
 * The projector stands at the origin of its own plane picture; a ray (x, y) meets an upright cylinder of radius R; a
 * pinhole camera with a lens looks at that. The truth is the difference of the two pictures in the frame in which their
 * mean is the chart: d(c) = W^-1(P_R(c)) - W^-1(P_L(c)), W the mean of both maps P on to the plane picture.
 */
import type { SeenMark } from '../../src/geometry/fit-views.ts';
import { fitTerms } from '../../src/geometry/measure-misalignment.ts';
import { fieldOfTerms, TERMS, type TermVector } from '../../src/geometry/misalignment.ts';
import { pictureGrid } from '../../src/geometry/rectify-mean.ts';
import { EYES, type Eye } from '../../src/kernel/eye.ts';
import { type Homography, transfer } from '../../src/kernel/homography.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { layoutChart } from '../../src/target/chart.ts';

export const ASPECT = 2.35;
const THROW_IH = 6.1;
const chartMarks = layoutChart(ASPECT).marks;

export interface Conditions {
  /** Radius of the screen in picture widths; flat without it. */
  readonly radius_widths?: number;
  readonly aside_deg?: number;
  /** Distortion of the projection lens in the picture's corners, as a fraction, and the axis' distance from each picture's centre, ih. */
  readonly pincushion?: number;
  readonly axis_ih?: number;
  /** Smooth print errors of each eye's marks, ih, and their correlation length. */
  readonly print_ih?: number;
  readonly print_length_ih?: number;
  /** Waves of each eye's filter, px rms. */
  readonly wavy_px?: number;
  readonly noise_px?: number;
  readonly width_px?: number;
  /** Largest misalignment, as a fraction of the picture height. */
  readonly misalignment?: number;
  /** Sixth-order lens distortion in the photograph's corners. */
  readonly moustache?: number;
}

export interface WarpedViews {
  readonly marks: SeenMark[];
  readonly size: { readonly width: number; readonly height: number };
  readonly truth: TermVector;
  readonly worstVertical: number;
  readonly remainder: number;
  readonly field: (at: Point) => Point;
}

export function seeWarped(conditions: Conditions, seed: number): WarpedViews {
  const random = createRandom(seed);
  const width = conditions.width_px ?? 3000;
  const size = { width, height: Math.round((2 * width) / 3) };
  const displaced: Record<Eye, Homography> = {
    left: displacement(random, (conditions.misalignment ?? 0.01) / 2),
    right: displacement(random, (conditions.misalignment ?? 0.01) / 2),
  };
  const axis: Record<Eye, Point> = {
    left: { x: 0, y: conditions.axis_ih ?? 0 },
    right: { x: 0, y: -(conditions.axis_ih ?? 0) },
  };
  const strength = (conditions.pincushion ?? 0) / (ASPECT ** 2 / 4 + 0.25);
  const onPlane = (eye: Eye, c: Point): Point => {
    const [dx, dy] = [c.x - axis[eye].x, c.y - axis[eye].y];
    const bend = strength * (dx * dx + dy * dy);
    return transfer(displaced[eye], { x: c.x + dx * bend, y: c.y + dy * bend });
  };
  const camera = placeCamera(conditions, random, width);
  const printed = Object.fromEntries(
    EYES.map((eye) => [eye, smoothField(random, conditions.print_ih ?? 0, conditions.print_length_ih ?? 0.35)]),
  ) as Record<Eye, (c: Point) => Point>;
  const filtered = Object.fromEntries(EYES.map((eye) => [eye, waves(random, conditions.wavy_px ?? 0)])) as Record<
    Eye,
    (c: Point) => Point
  >;
  const sigma = conditions.noise_px ?? 0.01;
  const marks = chartMarks.map(({ eye, x, y }): SeenMark => {
    const at = { x, y };
    const print = printed[eye](at);
    const p = camera(onPlane(eye, { x: x + print.x, y: y + print.y }));
    const wave = filtered[eye](at);
    return {
      eye,
      at,
      seen: { x: p.x + wave.x + sigma * random.normal(), y: p.y + wave.y + sigma * random.normal() },
      covariance: [sigma * sigma, 0, sigma * sigma],
    };
  });
  const field = trueField(onPlane);
  const grid = pictureGrid(ASPECT);
  const values = grid.map(field);
  const terms = fitTerms(grid, values);
  const truth = Object.fromEntries(TERMS.map((term, k) => [term, terms[k]])) as unknown as TermVector;
  const beyond = values.map((d, i) => {
    const t = fieldOfTerms(truth, grid[i]);
    return Math.hypot(d.x - t.x, d.y - t.y);
  });
  return {
    marks,
    size,
    truth,
    worstVertical: Math.max(...values.map(({ y }) => Math.abs(y))),
    remainder: Math.max(...beyond),
    field,
  };
}

function displacement(random: RandomSource, reach: number): Homography {
  const one = () => random.between(-reach, reach);
  return [1 + one(), one(), one(), one(), 1 + one(), one(), one() / 2, one() / 2, 1];
}

/** From the projector's plane picture by way of the screen to the photograph, px. */
function placeCamera(conditions: Conditions, random: RandomSource, width: number): (c: Point) => Point {
  const aside = (((conditions.aside_deg ?? 0) + random.between(-1, 1)) * Math.PI) / 180;
  const radius = conditions.radius_widths === undefined ? undefined : conditions.radius_widths * ASPECT;
  const distance = random.between(4, 5);
  const height = random.between(-0.3, 0.3);
  // The camera stands aside of the screen's middle and looks at it; z points from the screen towards the seats.
  const eye = { x: distance * Math.sin(aside), y: height, z: distance * Math.cos(aside) };
  const [cos, sin] = [Math.cos(aside), Math.sin(aside)];
  const tilt = Math.atan2(height, distance);
  const roll = random.between(-0.01, 0.01);
  const focal = (0.84 * width * distance) / ASPECT / 1.05;
  const k1 = random.between(-0.05, 0.03);
  const k2 = random.between(-0.01, 0.01);
  const half = Math.hypot(width, (2 * width) / 3) / 2;
  return (c) => {
    let t = 1;
    if (radius !== undefined) {
      // R - sqrt(R^2 - x^2 t^2) is how far the cylinder's edge comes towards the projector: THROW (1 - t).
      const [d, r] = [THROW_IH, radius];
      const [qa, qb, qc] = [d * d + c.x * c.x, 2 * d * (r - d), (r - d) ** 2 - r * r];
      t = (-qb + Math.sqrt(qb * qb - 4 * qa * qc)) / (2 * qa);
    }
    const place = { x: c.x * t - eye.x, y: c.y * t - eye.y, z: THROW_IH * (1 - t) - eye.z };
    const x = place.x * cos - place.z * sin;
    const depth = -(place.x * sin + place.z * cos);
    const y = place.y * Math.cos(tilt) + depth * Math.sin(tilt);
    const deep = depth * Math.cos(tilt) - place.y * Math.sin(tilt);
    const [u, v] = [x / deep, -y / deep];
    const [qx, qy] = [
      focal * (u * Math.cos(roll) - v * Math.sin(roll)),
      focal * (u * Math.sin(roll) + v * Math.cos(roll)),
    ];
    const r2 = (qx * qx + qy * qy) / (half * half);
    const stretch = 1 + r2 * (k1 + r2 * (k2 + r2 * (conditions.moustache ?? 0)));
    return { x: (width - 1) / 2 + qx * stretch, y: (width / 1.5 - 1) / 2 + qy * stretch };
  };
}

/** A random field with a Gaussian correlation: a sum of waves of random directions. */
function smoothField(random: RandomSource, size: number, length: number): (c: Point) => Point {
  if (size === 0) return () => ({ x: 0, y: 0 });
  const parts = Array.from({ length: 60 }, () => ({
    kx: random.normal() / length,
    ky: random.normal() / length,
    phase: random.between(0, 2 * Math.PI),
    turn: random.between(0, 2 * Math.PI),
  }));
  const scale = size * Math.sqrt(4 / parts.length);
  return ({ x, y }) => {
    let [sx, sy] = [0, 0];
    for (const { kx, ky, phase, turn } of parts) {
      const v = scale * Math.cos(kx * x + ky * y + phase);
      sx += v * Math.cos(turn);
      sy += v * Math.sin(turn);
    }
    return { x: sx, y: sy };
  };
}

function waves(random: RandomSource, size: number): (c: Point) => Point {
  if (size === 0) return () => ({ x: 0, y: 0 });
  const parts = Array.from({ length: 4 }, () => {
    const k = (2 * Math.PI) / random.between(0.4, 1.6);
    const turn = random.between(0, 2 * Math.PI);
    return {
      kx: k * Math.cos(turn),
      ky: k * Math.sin(turn),
      phase: random.between(0, 2 * Math.PI),
      turn: random.between(0, 2 * Math.PI),
    };
  });
  const scale = size * Math.sqrt(4 / parts.length);
  return ({ x, y }) => {
    let [sx, sy] = [0, 0];
    for (const { kx, ky, phase, turn } of parts) {
      const v = scale * Math.sin(kx * x + ky * y + phase);
      sx += v * Math.cos(turn);
      sy += v * Math.sin(turn);
    }
    return { x: sx, y: sy };
  };
}

function trueField(onPlane: (eye: Eye, c: Point) => Point): (c: Point) => Point {
  const middle = (c: Point) => {
    const [l, r] = [onPlane('left', c), onPlane('right', c)];
    return { x: (l.x + r.x) / 2, y: (l.y + r.y) / 2 };
  };
  const undo = (target: Point): Point => {
    let c = target;
    for (let step = 0; step < 30; step++) {
      const m = middle(c);
      c = { x: c.x + target.x - m.x, y: c.y + target.y - m.y };
    }
    return c;
  };
  return (c) => {
    const [l, r] = [undo(onPlane('left', c)), undo(onPlane('right', c))];
    return { x: r.x - l.x, y: r.y - l.y };
  };
}
