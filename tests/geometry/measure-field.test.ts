import { describe, expect, it } from 'vitest';
import { fitJointViews, type JointFit } from '../../src/geometry/fit-joint-views.ts';
import { fitViews } from '../../src/geometry/fit-views.ts';
import { measureField } from '../../src/geometry/measure-field.ts';
import { measureMisalignment } from '../../src/geometry/measure-misalignment.ts';
import { TERMS } from '../../src/geometry/misalignment.ts';
import { createMatrix, elementAt } from '../../src/kernel/linear-algebra.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { misalignmentTruth } from '../../src/scene/truth.ts';
import { eyesOf, LENS, OBLIQUE, PHOTO, seeMarks, ASPECT as VIEW_ASPECT } from './misaligned-views.ts';
import { ASPECT, type Conditions, seeWarped } from './warped-views.ts';

function fieldOf(conditions: Conditions, seed: number) {
  const views = seeWarped(conditions, seed);
  const fit = fitJointViews(views.marks, views.size, ASPECT);
  if (fit.outcome === 'refused') throw new Error(fit.code);
  return { views, fit, field: measureField(fit) };
}

describe('measureField on a flat screen', () => {
  const eyes = eyesOf(OBLIQUE, [1.003, -0.002, -0.004, 0.003, 0.998, 0.0045, 0.001, -0.001, 1]);
  const marks = seeMarks(eyes, LENS, { random: createRandom(9), sigma_px: [0.01, 0.01], turn: 0 });
  const joint = fitJointViews(marks, PHOTO, VIEW_ASPECT) as JointFit;
  const field = measureField(joint);

  it('says what the fit of two homographies says, with practically its uncertainty', () => {
    const views = fitViews(marks, PHOTO);
    if (views.outcome === 'refused') throw new Error(views.code);
    const covariance = createMatrix(16, 16);
    for (let r = 0; r < 16; r++) {
      for (let c = 0; c < 16; c++) covariance.data[r * 16 + c] = elementAt(views.covariance, r, c);
    }
    const before = measureMisalignment(
      { left: views.scaledHomographies.left!, right: views.scaledHomographies.right!, covariance },
      VIEW_ASPECT,
    );
    for (const term of TERMS) {
      expect(Math.abs(field.terms[term].value - before.terms[term].value)).toBeLessThan(0.6 * before.terms[term].u);
      expect(field.terms[term].u / before.terms[term].u).toBeGreaterThan(0.8);
      expect(field.terms[term].u / before.terms[term].u).toBeLessThan(1.25);
    }
    expect(field.worstVertical.at).toEqual(before.worstVertical.at);
  });

  it('means by its terms what the simulated scene means', () => {
    const truth = misalignmentTruth(eyes.left, eyes.right, VIEW_ASPECT);
    for (const term of TERMS) {
      expect(Math.abs(field.terms[term].value - truth.terms[term])).toBeLessThan(4 * field.terms[term].u);
    }
    expect(Math.abs(field.worstVertical.value - Math.abs(truth.worstVertical.value))).toBeLessThan(
      4 * field.worstVertical.u,
    );
  });

  it('has the variances of its terms on the diagonal of their covariance', () => {
    for (const [k, term] of TERMS.entries()) {
      expect(Math.sqrt(field.covariance[k][k])).toBeCloseTo(field.terms[term].u, 12);
    }
    for (const term of TERMS) expect(field.terms[term].uRepeat).toBeLessThanOrEqual(field.terms[term].u);
  });
});

describe('measureField with a remainder', () => {
  const { views, field } = fieldOf({ pincushion: 0.005, axis_ih: 0.5 }, 31);

  it('measures the remainder and the worst place from the whole field', () => {
    expect(Math.abs(field.remainder.value - views.remainder)).toBeLessThan(4 * field.remainder.u);
    expect(field.remainder.value).toBeGreaterThan(50 * field.remainder.u);
    expect(Math.abs(field.worstVertical.value - views.worstVertical)).toBeLessThan(4 * field.worstVertical.u);
  });

  it('gives the field itself at every place', () => {
    for (const at of [
      { x: 0, y: 0 },
      { x: 1.1, y: -0.45 },
      { x: -0.7, y: 0.3 },
    ]) {
      const [d, truth] = [field.fieldAt(at), views.field(at)];
      expect(Math.hypot(d.x - truth.x, d.y - truth.y)).toBeLessThan(4e-5);
    }
  });
});

describe('what is nearly nothing', () => {
  it('is neither stated as zero with no uncertainty nor beyond what it is', () => {
    for (let seed = 40; seed < 46; seed++) {
      const { views, field } = fieldOf({ misalignment: 0 }, seed);
      expect(views.worstVertical).toBeLessThan(1e-9);
      expect(field.worstVertical.value / field.worstVertical.u).toBeLessThan(2.5);
      expect(field.remainder.value / field.remainder.u).toBeLessThan(2.5);
      expect(field.remainder.u).toBeGreaterThan(0);
    }
  });
});
