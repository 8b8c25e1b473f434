import { describe, expect, it } from 'vitest';
import { estimateMovement } from '../../src/geometry/estimate-movement.ts';
import { fitJointViews, type JointFit } from '../../src/geometry/fit-joint-views.ts';
import { measureField } from '../../src/geometry/measure-field.ts';
import { TERMS } from '../../src/geometry/misalignment.ts';
import { defaultPriors, framesOfExposure, movementPrior } from '../../src/geometry/budget-priors.ts';
import { budgetMisalignment } from '../../src/geometry/misalignment-budget.ts';
import { elementAt } from '../../src/kernel/linear-algebra.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { ASPECT, seeWarped } from './warped-views.ts';

const H = 8.916;
const views = seeWarped({}, 61);
const fit = fitJointViews(views.marks, views.size, ASPECT) as JointFit;
const field = measureField(fit);
const lineOf = (budget: { lines: readonly { component: string; u: number }[] }, component: string) =>
  budget.lines.find((line) => line.component === component)?.u;

describe('budgetMisalignment of one exposure', () => {
  const budget = budgetMisalignment(fit, field, defaultPriors(H, 'one'));

  it('holds of the film what does not cancel, and no filter', () => {
    const names = budget.terms.verticalOffset.lines.map(({ component }) => component).sort();
    expect(names).toEqual(['film-shift-scaled', 'film-turn', 'marks', 'print-eyes', 'print-marks', 'shared-errors']);
  });

  it('has for a turn of the film the shift of two pictures that lie one above the other', () => {
    const phi = (Math.SQRT2 * 0.005) / 19;
    expect(lineOf(budget.terms.horizontalOffset, 'film-turn')).toBeCloseTo((phi * 9.525) / H, 9);
    expect(lineOf(budget.terms.verticalOffset, 'film-turn')).toBe(0);
    expect(lineOf(budget.terms.rotation, 'film-turn')).toBe(0);
    const apart = budgetMisalignment(fit, field, defaultPriors(H, 'one', undefined, 9.2));
    expect(lineOf(apart.terms.horizontalOffset, 'film-turn')).toBeCloseTo((phi * 9.2) / H, 9);
  });

  it('averages the turn over the frames of the exposure', () => {
    const [short, long] = [{ both: framesOfExposure(undefined) }, { both: framesOfExposure(0.25) }].map((exposure) =>
      lineOf(budgetMisalignment(fit, field, defaultPriors(H, exposure)).terms.horizontalOffset, 'film-turn'),
    );
    expect(short).toBe(lineOf(budget.terms.horizontalOffset, 'film-turn'));
    expect(long).toBeCloseTo(short! / Math.sqrt(6), 9);
  });

  it('has for a shift of the film what pictures of unequal size and turn make of it', () => {
    const motion = 0.005 / H;
    const flat = (turn: number, size: number) => ({
      ...field,
      fieldAt: ({ x, y }: Point) => ({ x: 0.001 - turn * y + size * x, y: 0.002 + turn * x + size * y }),
    });
    const of = (turn: number, size: number) => {
      const { verticalOffset, horizontalOffset } = budgetMisalignment(
        fit,
        flat(turn, size),
        defaultPriors(H, 'one'),
      ).terms;
      return [verticalOffset, horizontalOffset].map((term) => lineOf(term, 'film-shift-scaled')!);
    };
    for (const u of of(0, 0.01)) expect(u).toBeCloseTo(0.01 * motion, 12);
    for (const u of of(0.003, 0)) expect(u).toBeCloseTo(0.003 * motion, 12);
    for (const u of of(0.003, 0.004)) expect(u).toBeCloseTo(0.005 * motion, 12);
    for (const u of of(0, 0)) expect(u).toBeCloseTo(0, 12);
  });

  it('has 0.056 % of the height for 0.005 mm on the film', () => {
    expect(lineOf(budget.terms.verticalOffset, 'print-eyes')).toBeCloseTo(5.6e-4, 5);
    expect(budget.terms.verticalOffset.lines[0].component).toBe('print-eyes');
    expect(lineOf(budget.terms.rotation, 'print-eyes')).toBe(0);
  });

  it('adds up, and leaves print and lens out of what repeats', () => {
    for (const term of TERMS) {
      const { lines, u, uRepeat } = budget.terms[term];
      expect(Math.hypot(...lines.map((line) => line.u))).toBeCloseTo(u, 12);
      const repeating = ['marks', 'film-shift-scaled', 'film-turn'].map((name) => lineOf(budget.terms[term], name)!);
      expect(uRepeat).toBeCloseTo(Math.hypot(...repeating), 12);
      expect(uRepeat).toBeLessThan(u);
    }
    TERMS.forEach((term, k) => {
      expect(Math.sqrt(elementAt(budget.covariance, k, k))).toBeCloseTo(budget.terms[term].u, 12);
      expect(Math.sqrt(elementAt(budget.repeatCovariance, k, k))).toBeCloseTo(budget.terms[term].uRepeat, 12);
    });
  });

  it('without print errors is what the marks say', () => {
    const source = 'test';
    const bare = budgetMisalignment(fit, field, {
      printMark: { u: 0, length_ih: 0.4, source },
      printEyes: { u: 0, source },
    });
    for (const term of TERMS) expect(bare.terms[term].u).toBeCloseTo(field.terms[term].u, 10);
    expect(bare.worstVertical.u).toBeCloseTo(field.worstVertical.u, 10);
  });
});

describe('print errors of each mark', () => {
  it('move the terms by as much as their line says', () => {
    // Independent errors of 0.005 % (a correlation length of nothing): the spread of 60 prints against the budget.
    const source = 'test';
    const priors = { printMark: { u: 5e-5, length_ih: 1e-6, source }, printEyes: { u: 0, source } };
    const said = budgetMisalignment(fit, field, priors);
    const random = createRandom(5);
    const squares = TERMS.map(() => 0);
    const prints = 60;
    for (let k = 0; k < prints; k++) {
      const change = TERMS.map(() => 0);
      const cols = fit.response.cols;
      views.marks.forEach((_, i) => {
        const [a, b] = [5e-5 * random.normal(), 5e-5 * random.normal()];
        const [xx, xy, yx, yy] = fit.marks[i].slope;
        const [px, py] = [xx * a + xy * b, yx * a + yy * b];
        TERMS.forEach((_term, r) => {
          for (let q = 0; q < field.jacobian.cols; q++) {
            const j = elementAt(field.jacobian, r, q);
            if (j !== 0)
              change[r] +=
                j * (fit.response.data[q * cols + 2 * i] * px + fit.response.data[q * cols + 2 * i + 1] * py);
          }
        });
      });
      TERMS.forEach((_, r) => {
        squares[r] += change[r] ** 2 / prints;
      });
    }
    TERMS.forEach((term, r) => {
      const ratio = Math.sqrt(squares[r]) / lineOf(said.terms[term], 'print-marks')!;
      expect(ratio).toBeGreaterThan(0.7);
      expect(ratio).toBeLessThan(1.35);
    });
  });

  it('are not counted twice where the marks scatter for them', () => {
    const printed = seeWarped({}, 62);
    const random = createRandom(6);
    const marks = printed.marks.map((mark) => ({
      ...mark,
      seen: { x: mark.seen.x + 0.05 * random.normal(), y: mark.seen.y + 0.05 * random.normal() },
    }));
    const own = fitJointViews(marks, printed.size, ASPECT) as JointFit;
    const ownField = measureField(own);
    const budget = budgetMisalignment(own, ownField, defaultPriors(H, 'one'));
    expect(own.scatter).toBeGreaterThan(3);
    expect(lineOf(budget.terms.verticalOffset, 'marks')).toBeLessThan(0.5 * ownField.terms.verticalOffset.uRepeat);
  });
});

describe('budgetMisalignment of two exposures', () => {
  // Science of film: 0.005 mm a frame; exposures of 1/4 s hold six frames of film.
  const frames = framesOfExposure(0.25);
  const budget = budgetMisalignment(fit, field, defaultPriors(H, { left: frames, right: frames }, 3e-4));

  it('averages jump over the frames, and weave not', () => {
    expect(frames).toBeCloseTo(6, 12);
    const frame = 0.005 / H;
    expect(lineOf(budget.terms.verticalOffset, 'film-jump')).toBeCloseTo(frame * Math.sqrt(2 / 6), 9);
    expect(lineOf(budget.terms.horizontalOffset, 'film-weave')).toBeCloseTo(frame * Math.SQRT2, 9);
    expect(lineOf(budget.terms.rotation, 'film-turn')).toBeGreaterThan(1e-4);
    // Each picture stands half their distance from the middle of its frame, and turns with its own.
    const sideways = lineOf(budget.terms.horizontalOffset, 'film-turn')!;
    expect(sideways).toBeCloseTo(lineOf(budget.terms.rotation, 'film-turn')! * (9.525 / H / 2), 9);
    expect(lineOf(budget.worstVertical, 'film-turn')).toBeGreaterThan(1e-5);
    expect(lineOf(budget.terms.size, 'film-jump')).toBe(0);
  });

  it('counts film and the wedge of both filters as what changes: other glasses have other wedges', () => {
    const wedge = lineOf(budget.terms.horizontalOffset, 'filter-wedge')!;
    expect(wedge / (3e-4 * Math.SQRT2)).toBeGreaterThan(0.98);
    expect(wedge / (3e-4 * Math.SQRT2)).toBeLessThan(1.2);
    expect(budget.terms.horizontalOffset.uRepeat).toBeGreaterThan(Math.hypot((0.005 / H) * Math.SQRT2, wedge));
    expect(budget.terms.horizontalOffset.uRepeat).toBeLessThan(budget.terms.horizontalOffset.u);
  });

  it('takes what a ghost has told instead', () => {
    const movement = estimateMovement([], { film: [1e-4, 1e-4, 1e-4], view: [0, 0, 0, 0, 0, 0] });
    const told = budgetMisalignment(fit, field, { ...defaultPriors(H, { left: 6, right: 6 }, 3e-4), movement });
    const names = told.terms.verticalOffset.lines.map(({ component }) => component);
    expect(names).toContain('movement');
    expect(names).not.toContain('film-jump');
    expect(names).not.toContain('filter-wedge');
    expect(lineOf(told.terms.verticalOffset, 'movement')).toBeCloseTo(1e-4, 5);
    expect(lineOf(told.terms.rotation, 'movement')).toBeCloseTo(1e-4, 6);
    expect(lineOf(told.terms.shear, 'movement')).toBeLessThan(1e-5);
  });

  it('adds the rounding of what is shown', () => {
    const rounded = budgetMisalignment(fit, field, { ...defaultPriors(H, 'one'), rounding: { verticalOffset: 5e-6 } });
    expect(lineOf(rounded.terms.verticalOffset, 'rounding')).toBeCloseTo(5e-6 / Math.sqrt(3), 12);
  });
});

it('one frame where the exposure time is missing or absurd', () => {
  expect(framesOfExposure(undefined)).toBe(1);
  expect(framesOfExposure(-1)).toBe(1);
  expect(framesOfExposure(1e6)).toBe(1);
  expect(framesOfExposure(0.001)).toBe(1);
  expect(framesOfExposure(2)).toBe(48);
});

it('the movement before any ghost is that of film and wedge', () => {
  const { film, view } = movementPrior(defaultPriors(H, { left: 6, right: 6 }, 3e-4));
  expect(film[0]).toBeCloseTo((0.005 / H) * Math.sqrt(2 / 6), 9);
  expect(film[1]).toBeGreaterThan(film[0]);
  expect(film[2]).toBeGreaterThan(1e-4);
  expect(view.slice(0, 4)).toEqual([3e-4 * Math.SQRT2, 3e-4 * Math.SQRT2, 1e-4, 1e-4]);
  expect(movementPrior(defaultPriors(H, 'one')).view.slice(0, 4)).toEqual([1e-4, 1e-4, 1e-4, 1e-4]);
});

describe('a wedge that no ghost tells of', () => {
  // The picture on a curved screen from aside, the second photograph 5 px away.
  const seen = seeWarped({ radius_widths: 2, aside_deg: 15 }, 31);
  const shifted = seen.marks.map((mark) =>
    mark.eye === 'right' ? { ...mark, seen: { x: mark.seen.x + 4, y: mark.seen.y - 3 } } : mark,
  );
  const bent = fitJointViews(shifted, seen.size, ASPECT) as JointFit;
  const bentField = measureField(bent);
  const untold = budgetMisalignment(bent, bentField, defaultPriors(H, { left: 6, right: 6 }, 4 / 1000));
  it('stands in the uncertainty of all eight terms', () => {
    for (const term of TERMS) {
      const error = bentField.terms[term].value - seen.truth[term];
      expect(Math.abs(error / untold.terms[term].uRepeat), term).toBeLessThan(2.5);
    }
    expect(lineOf(untold.terms.shear, 'filter-wedge')).toBeGreaterThan(3e-5);
  });
});
