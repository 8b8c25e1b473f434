/**
 * The truth of a simulated scene: its misalignment, computed from its exact transforms and not from what was asked for,
 * and the evenness of its light.
 *
 *   m(c) = (H_L c + H_R c) / 2,   G = argmin sum |G m(c_i) - c_i|^2,   d(c) = G H_R c - G H_L c
 *
 * H_L, H_R are the eyes' photo_from_chart homographies of one camera, c_i a uniform 41 x 21 grid over the picture area.
 * The eight terms are the least-squares fit to d over the same grid; the worst vertical is looked for on a finer one.
 * This is written apart from the room that measures, so that one can judge the other.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import { compose, type Homography, IDENTITY, invert, transfer } from '../kernel/homography.ts';
import { choleskySolve, createMatrix } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { screenGain } from './light.ts';
import { projectIntoPhoto, screenFromFilm } from './picture-path.ts';
import { depolarizationAt, transmittance } from './polarization.ts';
import { projectorPosition, screenFromChart } from './projector.ts';
import type { Scene, Shot } from './scene.ts';
import { SCENE_TERMS, type SceneTerms } from './terms.ts';

export interface MisalignmentTruth {
  readonly terms: SceneTerms;
  /** d_y where it is largest in size, with its sign, and the chart point, ih. */
  readonly worstVertical: { readonly value: number; readonly at: Point };
}

/** The place of a chart point in one undistorted photo frame. */
export type PictureMap = (chartPoint: Point) => Point;

const GRID = { columns: 41, rows: 21 };
const FINE_GRID = { columns: 321, rows: 161 };

export function misalignmentTruth(
  photoFromChartLeft: Homography,
  photoFromChartRight: Homography,
  aspect: number,
): MisalignmentTruth & {
  /** G. */
  readonly chartFromMean: Homography;
} {
  const grid = gridOver(aspect, GRID);
  const chartFromMean = fitChartFromMean(photoFromChartLeft, photoFromChartRight, grid);
  const chartFromLeft = compose(chartFromMean, photoFromChartLeft);
  const chartFromRight = compose(chartFromMean, photoFromChartRight);
  const field = (c: Point): Point => {
    const right = transfer(chartFromRight, c);
    const left = transfer(chartFromLeft, c);
    return { x: right.x - left.x, y: right.y - left.y };
  };
  let worstVertical = { value: 0, at: { x: 0, y: 0 } };
  for (const at of gridOver(aspect, FINE_GRID)) {
    const value = field(at).y;
    if (Math.abs(value) > Math.abs(worstVertical.value)) worstVertical = { value, at };
  }
  return { terms: fitTerms(grid, grid.map(field)), worstVertical, chartFromMean };
}

/** What the whole field holds beyond the eight terms. */
export interface BentTruth extends MisalignmentTruth {
  /** The largest length of the field less the terms, and its chart point, ih. */
  readonly remainder: { readonly value: number; readonly at: Point };
  readonly field: (chartPoint: Point) => Point;
}

const BENT_FINE_GRID = { columns: 121, rows: 61 };

/**
 * The same where no homography holds: what both pictures share is any smooth map m, and takes the place of G's inverse.
 *
 *   m(c) = (P_L(c) + P_R(c)) / 2,   d(c) = m^-1(P_R(c)) - m^-1(P_L(c))
 *
 * P_L, P_R: where the pictures fall in one undistorted photo frame. For plane pictures this differs from the above in
 * second order of the misalignment times its own difference from a homography, below 1e-7 ih.
 */
function bentMisalignmentTruth(left: PictureMap, right: PictureMap, aspect: number): BentTruth {
  const mean: PictureMap = (c) => {
    const [l, r] = [left(c), right(c)];
    return { x: (l.x + r.x) / 2, y: (l.y + r.y) / 2 };
  };
  const field = (c: Point): Point => {
    const here = mean(c);
    const h = 1e-3;
    const [alongX, alongY] = [mean({ x: c.x + h, y: c.y }), mean({ x: c.x, y: c.y + h })];
    const [a, b] = [(alongX.x - here.x) / h, (alongY.x - here.x) / h];
    const [d, e] = [(alongX.y - here.y) / h, (alongY.y - here.y) / h];
    const determinant = a * e - b * d;
    // Newton's steps with the slope at c: pictures a few percent apart are found to rounding in a few of them.
    const toChart = (target: Point): Point => {
      let p = c;
      for (let i = 0; i < 12; i++) {
        const now = mean(p);
        const [x, y] = [target.x - now.x, target.y - now.y];
        const step = { x: (e * x - b * y) / determinant, y: (a * y - d * x) / determinant };
        p = { x: p.x + step.x, y: p.y + step.y };
        if (Math.hypot(step.x, step.y) < 1e-13) break;
      }
      return p;
    };
    const [l, r] = [toChart(left(c)), toChart(right(c))];
    return { x: r.x - l.x, y: r.y - l.y };
  };
  const grid = gridOver(aspect, GRID);
  const terms = fitTerms(grid, grid.map(field));
  let worstVertical = { value: 0, at: { x: 0, y: 0 } };
  let remainder = { value: 0, at: { x: 0, y: 0 } };
  for (const at of gridOver(aspect, BENT_FINE_GRID)) {
    const d = field(at);
    const t = fieldOf(terms, at);
    const left_ih = Math.hypot(d.x - t.x, d.y - t.y);
    if (Math.abs(d.y) > Math.abs(worstVertical.value)) worstVertical = { value: d.y, at };
    if (left_ih > remainder.value) remainder = { value: left_ih, at };
  }
  return { terms, worstVertical, remainder, field };
}

/** The misalignment of a scene with the film at rest, or, with the frames of a shot, as that exposure shows it on average. */
export function sceneMisalignmentTruth(
  scene: Scene,
  shot: Shot,
  film: 'at-rest' | 'as-exposed' = 'at-rest',
): BentTruth {
  const still = { ...shot, weave_ih: { x: 0, y: 0 } };
  const toPhoto = projectIntoPhoto(shot.camera);
  const mapOf = (eye: Eye): PictureMap => {
    const frames = film === 'as-exposed' ? shot.frames : undefined;
    if (!frames) {
      const toScreen = screenFromFilm(scene, still, eye);
      return (c) => toPhoto(toScreen(c));
    }
    const ways = frames.map((frame) => ({
      share: frame.share[eye],
      toScreen: screenFromFilm(scene, still, eye, frame),
    }));
    return (c) => {
      const sum = { x: 0, y: 0 };
      for (const { share, toScreen } of ways) {
        const { x, y } = toPhoto(toScreen(c));
        sum.x += share * x;
        sum.y += share * y;
      }
      return sum;
    };
  };
  return bentMisalignmentTruth(mapOf('left'), mapOf('right'), scene.aspect);
}

/** d(x, y) of the eight terms, ih. */
function fieldOf(terms: SceneTerms, { x, y }: Point): Point {
  const { verticalOffset, horizontalOffset, rotation, size, stretch, shear, keystoneH, keystoneV } = terms;
  const key = keystoneH * x + keystoneV * y;
  return {
    x: horizontalOffset - rotation * y + size * x + stretch * x + shear * y + key * x,
    y: verticalOffset + rotation * x + size * y - stretch * y + shear * x + key * y,
  };
}

function gridOver(aspect: number, { columns, rows }: { columns: number; rows: number }): Point[] {
  return Array.from({ length: columns * rows }, (_, i) => ({
    x: ((i % columns) / (columns - 1) - 0.5) * aspect,
    y: Math.floor(i / columns) / (rows - 1) - 0.5,
  }));
}

/**
 * G, by Gauss and Newton. The mean points are first taken near the chart by the inverse of H_L; the best homography
 * from there, after that inverse, is the best one overall.
 */
function fitChartFromMean(left: Homography, right: Homography, grid: readonly Point[]): Homography {
  const near = invert(left);
  const from = grid.map((c) => {
    const l = transfer(left, c);
    const r = transfer(right, c);
    return transfer(near, { x: (l.x + r.x) / 2, y: (l.y + r.y) / 2 });
  });
  let g: Homography = IDENTITY;
  for (let iteration = 0; iteration < 12; iteration++) {
    const equations = new NormalEquations(8);
    for (const [i, p] of from.entries()) {
      const w = g[6] * p.x + g[7] * p.y + 1;
      const q = transfer(g, p);
      equations.add([p.x / w, p.y / w, 1 / w, 0, 0, 0, (-q.x * p.x) / w, (-q.x * p.y) / w], grid[i].x - q.x);
      equations.add([0, 0, 0, p.x / w, p.y / w, 1 / w, (-q.y * p.x) / w, (-q.y * p.y) / w], grid[i].y - q.y);
    }
    const step = equations.solve();
    g = g.map((v, k) => (k < 8 ? v + step[k] : v)) as unknown as Homography;
    if (step.every((s) => Math.abs(s) < 1e-14)) break;
  }
  return compose(g, near);
}

/** Rows in the order of `SCENE_TERMS`. */
function fitTerms(grid: readonly Point[], field: readonly Point[]): SceneTerms {
  const equations = new NormalEquations(SCENE_TERMS.length);
  for (const [i, { x, y }] of grid.entries()) {
    equations.add([0, 1, -y, x, x, y, x * x, x * y], field[i].x);
    equations.add([1, 0, x, y, -y, x, x * y, y * y], field[i].y);
  }
  const solution = equations.solve();
  return Object.fromEntries(SCENE_TERMS.map((term, k) => [term, solution[k]])) as SceneTerms;
}

class NormalEquations {
  private readonly matrix;
  private readonly side;

  constructor(private readonly unknowns: number) {
    this.matrix = createMatrix(unknowns, unknowns);
    this.side = new Float64Array(unknowns);
  }

  add(row: readonly number[], value: number): void {
    for (let r = 0; r < this.unknowns; r++) {
      this.side[r] += row[r] * value;
      for (let c = 0; c < this.unknowns; c++) this.matrix.data[r * this.unknowns + c] += row[r] * row[c];
    }
  }

  solve(): Float64Array {
    const solution = choleskySolve(this.matrix, this.side);
    if (!solution) throw new RangeError('the pictures of this scene do not cover an area');
    return solution;
  }
}

const REACH = 0.45;
/** In parts of the picture's width and height from its centre; y up. */
const PLACES = {
  centre: [0, 0],
  left: [-REACH, 0],
  right: [REACH, 0],
  top: [0, REACH],
  bottom: [0, -REACH],
  'top-left': [-REACH, REACH],
  'top-right': [REACH, REACH],
  'bottom-left': [-REACH, -REACH],
  'bottom-right': [REACH, -REACH],
} as const;
type Place = keyof typeof PLACES;

export type TrueEvenness = Readonly<Record<Place, { readonly value: number }>>;

/**
 * How even the light of a simulated picture is, exactly: what each place sends towards the camera over what the centre sends.
 *
 *   light(p) = sum over the pictures of  brightness * gain(p) * transmittance(p)
 *
 * Places are picture coordinates; sides and corners lie 5 % of width and height inside the edges. What heads and cut corners
 * hide counts as if they were not there, and the camera's own lens counts for nothing. Percent of the centre, of one
 * picture, or of both together where `pictures` names both.
 */
export function computeTrueEvenness_pct(scene: Scene, shot: Shot, pictures: readonly Eye[] = EYES): TrueEvenness {
  const centre = lightOf(scene, shot, pictures, { x: 0, y: 0 });
  const places = Object.entries(PLACES).map(([place, [x, y]]) => {
    const light = lightOf(scene, shot, pictures, { x: x * scene.aspect, y });
    return [place, { value: (100 * light) / centre }];
  });
  return Object.fromEntries(places) as TrueEvenness;
}

function lightOf(scene: Scene, shot: Shot, pictures: readonly Eye[], at: Point): number {
  const { projector, polarization, surface, brightness } = scene;
  const port = projectorPosition(projector);
  return pictures.reduce((sum, eye) => {
    const onScreen = transfer(screenFromChart(projector, eye, shot.weave_ih), at);
    const passed = transmittance(polarization, eye, shot.lens, depolarizationAt(polarization, onScreen));
    return sum + brightness[eye] * passed * screenGain(surface, port, shot.camera.position_ih, onScreen);
  }, 0);
}
