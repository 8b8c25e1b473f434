import { describe, expect, it } from 'vitest';
import {
  fitTerms,
  measureMisalignment,
  misalignmentField,
  widenForMovement,
} from '../../src/geometry/measure-misalignment.ts';
import { fieldOfTerms, type Misalignment, TERMS, type Term, type TermVector } from '../../src/geometry/misalignment.ts';
import { pictureGrid } from '../../src/geometry/rectify-mean.ts';
import { compose, type Homography, transfer } from '../../src/kernel/homography.ts';
import { createMatrix, identityMatrix, scale } from '../../src/kernel/linear-algebra.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { misalignmentTruth } from '../../src/scene/truth.ts';
import { ASPECT, eyesOf, FRONT, OBLIQUE, STILL } from './misaligned-views.ts';

const NOTHING_KNOWN = createMatrix(16, 16);

function measure(displaced: Homography, camera = OBLIQUE, aspect = ASPECT): Misalignment {
  return measureMisalignment({ ...eyesOf(camera, displaced), covariance: NOTHING_KNOWN }, aspect);
}

const value = ({ terms }: Misalignment, term: Term) => terms[term].value;

/** Everything but `term` stays below a twentieth of it. */
function expectOnly(result: Misalignment, term: Term, expected: number): void {
  expect(value(result, term)).toBeGreaterThan(0);
  expect(value(result, term) / expected).toBeCloseTo(1, 2);
  for (const other of TERMS) {
    if (other !== term) expect(Math.abs(value(result, other)), other).toBeLessThan(0.05 * expected);
  }
}

const amount = 0.004;

describe('signs: each term by its meaning, from pictures displaced on the screen', () => {
  it('right-eye picture higher is a positive vertical offset', () => {
    expectOnly(measure([1, 0, 0, 0, 1, amount, 0, 0, 1]), 'verticalOffset', amount);
  });

  it('right-eye picture further right as seen from the audience is a positive horizontal offset', () => {
    expectOnly(measure([1, 0, amount, 0, 1, 0, 0, 0, 1]), 'horizontalOffset', amount);
  });

  it('right-eye picture turned counter-clockwise is a positive rotation', () => {
    const [c, s] = [Math.cos(amount), Math.sin(amount)];
    const turned: Homography = [c, -s, 0, s, c, 0, 0, 0, 1];
    // Its right edge has gone up.
    expect(transfer(turned, { x: 1, y: 0 }).y).toBeGreaterThan(0);
    expectOnly(measure(turned), 'rotation', amount);
  });

  it('right-eye picture larger is a positive size', () => {
    expectOnly(measure([1 + amount, 0, 0, 0, 1 + amount, 0, 0, 0, 1]), 'size', amount);
  });

  it('right-eye picture wider and less tall is a positive stretch', () => {
    expectOnly(measure([1 + amount, 0, 0, 0, 1 - amount, 0, 0, 0, 1]), 'stretch', amount);
  });

  it('right-eye picture drawn out along the rising diagonal is a positive shear', () => {
    const drawn: Homography = [1, amount, 0, amount, 1, 0, 0, 0, 1];
    const corner = transfer(drawn, { x: 0.5, y: 0.5 });
    expect(Math.hypot(corner.x, corner.y)).toBeGreaterThan(Math.SQRT1_2);
    expectOnly(measure(drawn), 'shear', amount);
  });

  it('right-eye picture relatively larger on its right side is a positive horizontal keystone', () => {
    const keystone: Homography = [1, 0, 0, 0, 1, 0, -amount, 0, 1];
    const heightAt = (x: number) => transfer(keystone, { x, y: 0.5 }).y - transfer(keystone, { x, y: -0.5 }).y;
    expect(heightAt(1)).toBeGreaterThan(heightAt(-1));
    expectOnly(measure(keystone), 'keystoneH', amount);
  });

  it('right-eye picture relatively larger at its top is a positive vertical keystone', () => {
    const keystone: Homography = [1, 0, 0, 0, 1, 0, 0, -amount, 1];
    const widthAt = (y: number) => transfer(keystone, { x: 1, y }).x - transfer(keystone, { x: -1, y }).x;
    expect(widthAt(0.5)).toBeGreaterThan(widthAt(-0.5));
    expectOnly(measure(keystone), 'keystoneV', amount);
  });

  it('exchanging the eyes changes every sign', () => {
    const displaced: Homography = [1.004, -0.003, 0.002, 0.005, 0.998, -0.003, 0.002, -0.001, 1];
    const { left, right } = eyesOf(OBLIQUE, displaced);
    const there = measureMisalignment({ left, right, covariance: NOTHING_KNOWN }, ASPECT);
    const back = measureMisalignment({ left: right, right: left, covariance: NOTHING_KNOWN }, ASPECT);
    for (const term of TERMS) expect(value(back, term)).toBeCloseTo(-value(there, term), 9);
  });

  it('pictures that coincide have no misalignment', () => {
    const result = measure(STILL);
    for (const term of TERMS) expect(Math.abs(value(result, term))).toBeLessThan(1e-12);
    expect(result.worstVertical.value).toBeLessThan(1e-12);
  });
});

describe('worst place', () => {
  // Keystone alone reaches as far in the opposite corner; a little roll decides between the two.
  it.each([
    { name: 'upper right', keyH: amount, keyV: amount, rotation: 2e-4, x: 1, y: 1 },
    { name: 'lower left', keyH: amount, keyV: amount, rotation: -2e-4, x: -1, y: -1 },
    { name: 'upper left', keyH: -amount, keyV: amount, rotation: -2e-4, x: -1, y: 1 },
    { name: 'lower right', keyH: -amount, keyV: amount, rotation: 2e-4, x: 1, y: -1 },
  ])('is the $name corner where keystone both ways and roll add up there', ({ keyH, keyV, rotation, x, y }) => {
    const { worstVertical } = measure([1, -rotation, 0, rotation, 1, 0, -keyH, -keyV, 1], FRONT);
    expect(worstVertical.at.x).toBeCloseTo((x * ASPECT) / 2, 12);
    expect(worstVertical.at.y).toBeCloseTo(y / 2, 12);
    const expected = (amount * (ASPECT / 2 + 0.5)) / 2 + (2e-4 * ASPECT) / 2;
    expect(worstVertical.value / expected).toBeCloseTo(1, 1);
  });

  it('is the side that goes the same way as the offset, for a rolled picture', () => {
    const roll = (rotation: number, dy: number): Homography => [1, -rotation, 0, rotation, 1, dy, 0, 0, 1];
    for (const [rotation, dy, side] of [
      [amount, 0.002, 1],
      [-amount, 0.002, -1],
      [amount, -0.002, -1],
      [-amount, -0.002, 1],
    ] as const) {
      const { worstVertical } = measure(roll(rotation, dy), FRONT);
      expect(Math.sign(worstVertical.at.x)).toBe(side);
      expect(Math.abs(worstVertical.at.x)).toBeCloseTo(ASPECT / 2, 12);
      // Its amount, whichever way: 1 % of roll-and-offset up or down is the same trouble.
      expect(worstVertical.value).toBeCloseTo(0.002 + (amount * ASPECT) / 2, 4);
    }
  });
});

describe('against the independent truth of the simulated projector', () => {
  it('terms, worst place and its amount agree for 30 random pairs from random cameras', () => {
    const random = createRandom(40);
    const about = (v: number) => v * random.normal();
    for (let k = 0; k < 30; k++) {
      const displace = (): Homography => [
        1 + about(0.01),
        about(0.01),
        about(0.01),
        about(0.01),
        1 + about(0.01),
        about(0.01),
        about(0.005),
        about(0.005),
        1,
      ];
      const camera: Homography = [
        1200 + about(50),
        about(80),
        1500 + about(40),
        about(80),
        -1200 + about(50),
        1000 + about(40),
        about(0.05),
        about(0.05),
        1,
      ];
      const [left, right] = [compose(camera, displace()), compose(camera, displace())];
      const aspect = random.between(1.33, 2.6);
      const truth = misalignmentTruth(left, right, aspect);
      const measured = measureMisalignment({ left, right, covariance: NOTHING_KNOWN }, aspect);
      for (const term of TERMS) expect(Math.abs(value(measured, term) - truth.terms[term])).toBeLessThan(1e-9);
      // The truth is looked for on a grid eight times as fine; both hold the corners and sides.
      expect(measured.worstVertical.value).toBeLessThanOrEqual(Math.abs(truth.worstVertical.value) + 1e-9);
      expect(measured.worstVertical.value / Math.abs(truth.worstVertical.value)).toBeGreaterThan(0.998);
    }
  });

  it('the camera’s pose drops out, up to the second order of the misalignment', () => {
    const displaced: Homography = [1.004, -0.003, 0.002, 0.005, 0.998, -0.003, 0.002, -0.001, 1];
    const tenth = displaced.map((v, i) => STILL[i] + (v - STILL[i]) / 10) as unknown as Homography;
    const spread = (h: Homography) =>
      Math.max(...TERMS.map((term) => Math.abs(value(measure(h, FRONT), term) - value(measure(h, OBLIQUE), term))));
    expect(spread(displaced)).toBeLessThan(2e-5);
    expect(spread(tenth)).toBeLessThan(spread(displaced) / 50);
  });

  it('a similarity of the photo frame changes nothing', () => {
    const displaced: Homography = [1.004, -0.003, 0.002, 0.005, 0.998, -0.003, 0.002, -0.001, 1];
    const [c, s] = [0.0006 * Math.cos(1.1), 0.0006 * Math.sin(1.1)];
    const moved = compose([c, -s, -0.7, s, c, -1.2, 0, 0, 1], OBLIQUE);
    for (const term of TERMS)
      expect(value(measure(displaced, moved), term)).toBeCloseTo(value(measure(displaced, OBLIQUE), term), 10);
  });
});

describe('fitTerms', () => {
  it('gives the terms of a field back, exactly', () => {
    const terms = Object.fromEntries(TERMS.map((term, i) => [term, 0.003 * (i - 3.5)])) as unknown as TermVector;
    const grid = pictureGrid(ASPECT, 9, 5);
    const fitted = fitTerms(
      grid,
      grid.map((c) => fieldOfTerms(terms, c)),
    );
    for (const [i, term] of TERMS.entries()) expect(fitted[i]).toBeCloseTo(terms[term], 13);
  });

  it('throws for a grid that is a point', () => {
    expect(() => fitTerms([{ x: 0, y: 0 }], [{ x: 0, y: 0 }])).toThrow(RangeError);
  });
});

describe('misalignmentField', () => {
  it('is right minus left: the offset itself at every point of pictures that are only shifted', () => {
    const { left, right } = eyesOf(FRONT, [1, 0, 0.003, 0, 1, -0.002, 0, 0, 1]);
    for (const d of misalignmentField(left, right, pictureGrid(ASPECT, 7, 5))) {
      expect(d.x).toBeCloseTo(0.003, 10);
      expect(d.y).toBeCloseTo(-0.002, 10);
    }
  });
});

describe('uncertainty', () => {
  const photoU = 0.02;
  /** Square-on views that are known but for where each picture lies: offsets of each known to `photoU` px. */
  function shiftsKnownTo(u_px: number) {
    const covariance = createMatrix(16, 16);
    for (const k of [2, 5, 10, 13]) covariance.data[k * 16 + k] = u_px * u_px;
    return covariance;
  }

  it('of the offsets is that of two independent pictures, in ih; other terms gain none', () => {
    const pair = { ...eyesOf(FRONT, [1, 0, 0, 0, 1, 0.003, 0, 0, 1]), covariance: shiftsKnownTo(photoU) };
    const { terms, covariance, worstVertical } = measureMisalignment(pair, ASPECT);
    const expected = (Math.SQRT2 * photoU) / 1200;
    expect(terms.verticalOffset.u / expected).toBeCloseTo(1, 3);
    expect(terms.horizontalOffset.u / expected).toBeCloseTo(1, 3);
    expect(worstVertical.u / expected).toBeCloseTo(1, 2);
    for (const term of TERMS.slice(2)) expect(terms[term].u).toBeLessThan(0.01 * expected);
    expect(Math.sqrt(covariance[0][0])).toBeCloseTo(terms.verticalOffset.u, 15);
  });

  it('of what both pictures share drops out', () => {
    const covariance = createMatrix(16, 16);
    for (const [a, b] of [
      [2, 10],
      [5, 13],
    ]) {
      for (const [r, c] of [
        [a, a],
        [b, b],
        [a, b],
        [b, a],
      ])
        covariance.data[r * 16 + c] = 1;
    }
    const { terms } = measureMisalignment({ ...eyesOf(FRONT, [1, 0, 0, 0, 1, 0.003, 0, 0, 1]), covariance }, ASPECT);
    for (const term of TERMS) expect(terms[term].u).toBeLessThan(1e-3 / 1200);
  });

  it('grows in proportion', () => {
    const pair = eyesOf(OBLIQUE, [1.004, -0.003, 0.002, 0.005, 0.998, -0.003, 0.002, -0.001, 1]);
    const one = measureMisalignment({ ...pair, covariance: scale(identityMatrix(16), 1e-14) }, ASPECT);
    const ten = measureMisalignment({ ...pair, covariance: scale(identityMatrix(16), 1e-12) }, ASPECT);
    for (const term of TERMS) expect(ten.terms[term].u / one.terms[term].u).toBeCloseTo(10, 2);
  });
});

describe('widenForMovement', () => {
  const still = measureMisalignment(
    { ...eyesOf(FRONT, [1, 0, 0, 0, 1, 0.003, 0, 0, 1]), covariance: scale(identityMatrix(16), 1e-14) },
    ASPECT,
  );

  it('leaves a reading alone where nothing moved', () => expect(widenForMovement(still, 0, ASPECT)).toEqual(still));

  it('adds the movement to the offsets and the worst place in quadrature, and changes no value', () => {
    const widened = widenForMovement(still, 1e-4, ASPECT);
    for (const term of TERMS) expect(widened.terms[term].value).toBe(still.terms[term].value);
    expect(widened.terms.verticalOffset.u).toBeCloseTo(Math.hypot(still.terms.verticalOffset.u, 1e-4), 15);
    expect(widened.terms.horizontalOffset.u).toBeCloseTo(Math.hypot(still.terms.horizontalOffset.u, 1e-4), 15);
    expect(widened.worstVertical.u).toBeCloseTo(Math.hypot(still.worstVertical.u, 1e-4), 15);
    expect(widened.worstVertical.value).toBe(still.worstVertical.value);
  });

  it('adds to the other terms what reaches the movement at the picture’s corner', () => {
    const widened = widenForMovement(still, 1e-4, ASPECT);
    const { rotation } = widened.terms;
    expect(Math.sqrt(rotation.u ** 2 - still.terms.rotation.u ** 2) * Math.hypot(ASPECT / 2, 0.5)).toBeCloseTo(
      1e-4,
      10,
    );
    expect(Math.sqrt(widened.covariance[2][2])).toBeCloseTo(rotation.u, 15);
    expect(widened.covariance[2][3]).toBe(still.covariance[2][3]);
  });
});
