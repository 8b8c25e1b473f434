import { describe, expect, it } from 'vitest';
import {
  estimateMovement,
  MOVEMENT_TERMS,
  type Movement,
  onChart,
  takeOutMovement,
  viewMovement,
} from '../../src/geometry/estimate-movement.ts';
import { createMatrix, elementAt } from '../../src/kernel/linear-algebra.ts';
import type { ChartDisplacement, MovementPrior, SeenPlace } from '../../src/geometry/movement-process.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { layoutChart } from '../../src/target/chart.ts';

const marks = layoutChart(2.35).marks;
const slope = [1000, 30, -20, -980] as const;
const truth = { verticalOffset: 8e-4, horizontalOffset: -5e-4, rotation: 3e-4, size: -1e-4 };
const WIDE: MovementPrior = { film: [0.01, 0.01, 0.01], view: [0, 0, 0, 0.01, 0, 0] };
const NO_FILM = [0, 0, 0] as const;
const NO_VIEW = [0, 0, 0, 0, 0, 0] as const;

const placeOf = ({ x, y }: { x: number; y: number }): SeenPlace => {
  const [xx, xy, yx, yy] = slope;
  return { chart: { x, y }, at: { x: 1500 + xx * x + xy * y, y: 1000 + yx * x + yy * y }, slope };
};
/** A view from aside: what is farther right is seen smaller. */
const obliquely = ({ x, y }: { x: number; y: number }): SeenPlace => {
  const w = 1 + 0.15 * x;
  const at = { x: 1500 + (1000 * x) / w, y: 1000 - (1000 * y) / w };
  return { chart: { x, y }, at, slope: [1000 / w ** 2, 0, (150 * y * 1000) / 1000 / w ** 2, -1000 / w] };
};

/** Weak marks as seen in both photographs, each known to `u` px. */
function displacements(u: number, random: RandomSource, every = 1): ChartDisplacement[] {
  return marks
    .filter((_, i) => i % every === 0)
    .map(({ x, y }) => {
      const dx = truth.horizontalOffset - truth.rotation * y + truth.size * x;
      const dy = truth.verticalOffset + truth.rotation * x + truth.size * y;
      const [xx, xy, yx, yy] = slope;
      return {
        ...placeOf({ x, y }),
        shift: { x: xx * dx + xy * dy + u * random.normal(), y: yx * dx + yy * dy + u * random.normal() },
        u: { x: u, y: u },
      };
    });
}

/** Standard uncertainty of how far a place moved up on the chart. */
function uUp(movement: Movement, place: SeenPlace): number {
  const functions = createMatrix(1, 2);
  functions.data.set([onChart(place, { x: 1, y: 0 }).y, onChart(place, { x: 0, y: 1 }).y]);
  return Math.sqrt(elementAt(movement.covarianceOf(functions, [place]), 0, 0));
}

const upOf = (movement: Movement, place: SeenPlace) => onChart(place, movement.shiftAt(place)).y;

describe('estimateMovement', () => {
  it('finds shift, turn and size between the photographs', () => {
    const movement = estimateMovement(displacements(1e-5, createRandom(1)), WIDE);
    for (const term of MOVEMENT_TERMS) expect(movement.terms[term]).toBeCloseTo(truth[term], 7);
  });

  it('knows them as well as it says: to 0.001 % from a ghost that is known to half a tenth of a pixel', () => {
    const places = [
      { x: 0, y: 0 },
      { x: 1.1, y: 0.45 },
      { x: -1.1, y: 0.4 },
    ].map(placeOf);
    let held = 0;
    const trials = 25;
    for (let seed = 0; seed < trials; seed++) {
      const movement = estimateMovement(displacements(0.05, createRandom(seed)), WIDE);
      for (const place of places) {
        const { x, y } = place.chart;
        const up = truth.verticalOffset + truth.rotation * x + truth.size * y;
        if (Math.abs(upOf(movement, place) - up) <= 2 * uUp(movement, place)) held++;
      }
      expect(uUp(movement, places[0])).toBeLessThan(1e-5);
    }
    expect(held / (trials * places.length)).toBeGreaterThan(0.88);
    expect(held / (trials * places.length)).toBeLessThan(0.995);
  });

  it('leaves the prior standing where no ghost tells', () => {
    const prior: MovementPrior = { film: [1e-3, 2e-3, 3e-4], view: NO_VIEW };
    const movement = estimateMovement([], prior);
    expect(movement.terms).toEqual({ verticalOffset: 0, horizontalOffset: 0, rotation: 0, size: 0 });
    expect(uUp(movement, placeOf({ x: 0, y: 0 }))).toBeCloseTo(1e-3, 12);
    expect(uUp(movement, placeOf({ x: 1, y: 0 }))).toBeCloseTo(Math.hypot(1e-3, 3e-4), 12);
    const one = estimateMovement(displacements(0.05, createRandom(2)).slice(0, 1), prior);
    expect(uUp(one, placeOf({ x: 0, y: 0 }))).toBeLessThan(5e-4);
    expect(uUp(one, placeOf({ x: 1.1, y: 0 }))).toBeGreaterThan(2.5e-4);
  });

  it('tells a shift of the photograph from one on the screen by how an oblique view shows them', () => {
    const random = createRandom(6);
    const seen = marks.map(obliquely).map(
      (place): ChartDisplacement => ({
        ...place,
        shift: { x: 4 + 0.02 * random.normal(), y: -3 + 0.02 * random.normal() },
        u: { x: 0.02, y: 0.02 },
      }),
    );
    const movement = estimateMovement(seen, { film: [1e-3, 1e-3, 1e-4], view: [0.01, 0.01, 1e-4, 1e-4, 1e-3, 1e-3] });
    for (const place of [obliquely({ x: -1.1, y: 0.4 }), obliquely({ x: 1.1, y: -0.4 })]) {
      expect(movement.shiftAt(place).x).toBeCloseTo(4, 1);
      expect(movement.shiftAt(place).y).toBeCloseTo(-3, 1);
      expect(uUp(movement, place)).toBeLessThan(4e-5);
    }
    // Nothing told: a shift of the photograph by 0.1 % is more on the right, where the picture is seen smaller.
    const untold = estimateMovement([], { film: NO_FILM, view: [1e-3, 1e-3, 0, 0, 0, 0] });
    const functions = createMatrix(1, 4);
    const [near, far] = [obliquely({ x: -1.1, y: 0 }), obliquely({ x: 1.1, y: 0 })];
    functions.data.set([0, -onChart(near, { x: 0, y: 1 }).y, 0, onChart(far, { x: 0, y: 1 }).y]);
    expect(Math.sqrt(elementAt(untold.covarianceOf(functions, [near, far]), 0, 0))).toBeGreaterThan(2e-4);
  });

  it('follows the waves of a filter as far as the ghosts show them, and is uncertain by the rest', () => {
    const wave = ({ x, y }: { x: number; y: number }) => ({
      x: 0.2 * Math.cos(3 * x + y),
      y: 0.2 * Math.sin(2 * x - 4 * y),
    });
    const random = createRandom(8);
    const seen = (u: number) =>
      marks.map(placeOf).map((place): ChartDisplacement => {
        const { x, y } = wave(place.chart);
        return { ...place, shift: { x: x + u * random.normal(), y: y + u * random.normal() }, u: { x: u, y: u } };
      });
    const prior: MovementPrior = { film: [1e-3, 1e-3, 1e-4], view: NO_VIEW, waves_px: 0.4 };
    const clear = estimateMovement(seen(0.01), prior);
    expect(clear.waves_px).toBeGreaterThan(0.08);
    let sum = 0;
    for (const { x, y } of marks.filter((_, i) => i % 7 === 0)) {
      const place = placeOf({ x: x + 0.05, y });
      const error = upOf(clear, place) - onChart(place, wave(place.chart)).y;
      expect(Math.abs(error)).toBeLessThan(5e-5);
      sum += (error / uUp(clear, place)) ** 2 / marks.filter((_, i) => i % 7 === 0).length;
    }
    expect(sum).toBeLessThan(2.5);
    // Where nothing is wavy, little is found.
    expect(estimateMovement(displacements(0.05, createRandom(9)), { ...WIDE, waves_px: 0.4 }).waves_px).toBeLessThan(
      0.02,
    );
    // A ghost that tells nothing leaves the waves in the uncertainty.
    const faint = estimateMovement(seen(3), prior);
    expect(uUp(faint, placeOf({ x: 1, y: 0.4 }))).toBeGreaterThan(1e-4);
    // As large as they may be, where there is no ghost at all.
    const none = estimateMovement([], { film: NO_FILM, view: NO_VIEW, waves_px: 0.2 });
    expect(uUp(none, placeOf({ x: 0, y: 0 }))).toBeCloseTo(0.2 / 980, 5);
  });

  it('is not ruled by a mark that does not follow the others', () => {
    const spoiled = displacements(0.02, createRandom(3)).map((d, i) =>
      i === 7 ? { ...d, shift: { x: 9, y: -9 } } : d,
    );
    const movement = estimateMovement(spoiled, WIDE);
    const place = placeOf({ x: 0, y: 0 });
    expect(Math.abs(upOf(movement, place) - truth.verticalOffset)).toBeLessThan(4 * uUp(movement, place));
  });

  it('says so where the displacements scatter more than they claim', () => {
    const bold = displacements(0.05, createRandom(4)).map((d) => ({ ...d, u: { x: 0.01, y: 0.01 } }));
    expect(estimateMovement(bold, WIDE).scatter).toBeGreaterThan(3);
  });

  it('takes no prior of nothing', () =>
    expect(() => estimateMovement([], { film: NO_FILM, view: NO_VIEW })).toThrow(RangeError));
});

describe('takeOutMovement', () => {
  it('shows the second picture as if nothing had moved', () => {
    const known = viewMovement(truth, marks.map(placeOf));
    const seen = marks.map(({ eye, x, y }) => ({
      eye,
      at: { x, y },
      seen: placeOf({ x, y }).at,
      slope,
      covariance: [1, 0, 1] as const,
    }));
    takeOutMovement(seen, known, 'right').forEach((mark, i) => {
      const moved = { x: seen[i].seen.x - mark.seen.x, y: seen[i].seen.y - mark.seen.y };
      if (mark.eye === 'left') expect(moved).toEqual({ x: 0, y: 0 });
      else {
        const { x, y } = onChart({ slope }, moved);
        expect(x).toBeCloseTo(truth.horizontalOffset - truth.rotation * mark.at.y + truth.size * mark.at.x, 4);
        expect(y).toBeCloseTo(truth.verticalOffset + truth.rotation * mark.at.x + truth.size * mark.at.y, 4);
      }
    });
  });
});
