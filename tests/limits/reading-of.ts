/** Makes readings for the tests of findings and turns: terms and leaks as given, uncertainties alike. */
import { readFileSync } from 'node:fs';
import { fieldOfTerms, type Misalignment, TERMS, type Term, type TermVector } from '../../src/geometry/misalignment.ts';
import type { EyeAssignment, Eyes } from '../../src/light/eyes.ts';
import { type House, readHouse } from '../../src/record/house.ts';

export const ASPECT = 2.35;

export function termVector(some: Partial<TermVector>): TermVector {
  return Object.fromEntries(TERMS.map((term) => [term, some[term] ?? 0])) as Record<Term, number>;
}

/** The largest |d_y| of the terms on a fine grid, signed, with its place. */
export function worstVerticalOf(terms: TermVector, aspect = ASPECT): { value: number; at: { x: number; y: number } } {
  let worst = { value: 0, at: { x: 0, y: 0 } };
  for (let i = -40; i <= 40; i++) {
    for (let j = -20; j <= 20; j++) {
      const at = { x: (i / 80) * aspect, y: j / 40 };
      const { y } = fieldOfTerms(terms, at);
      if (Math.abs(y) > Math.abs(worst.value)) worst = { value: y, at };
    }
  }
  return worst;
}

export function misalignmentOf(some: Partial<TermVector>, u = 1e-6): Misalignment {
  const terms = termVector(some);
  return {
    terms: Object.fromEntries(TERMS.map((term) => [term, { value: terms[term], u }])) as Misalignment['terms'],
    covariance: TERMS.map((_, r) => TERMS.map((__, c) => (r === c ? u * u : 0))),
    worstVertical: { ...worstVerticalOf(terms), u },
  };
}

/** Both pictures equally strong; leaks as fractions. */
export function eyesOf(leakLeft: number, leakRight: number, assignment: EyeAssignment = 'correct', u = 1e-4): Eyes {
  const leak = (value: number) => ({ value, u });
  const crosstalk = (value: number) =>
    assignment === 'swapped' ? { value: 1 / value, u: u / (value * value) } : leak(value);
  const weak = (value: number) => ({ value, u });
  const strong = { value: 1, u };
  const throughLeft =
    assignment === 'swapped' ? { left: weak(leakLeft), right: strong } : { left: strong, right: weak(leakLeft) };
  const throughRight =
    assignment === 'swapped' ? { left: strong, right: weak(leakRight) } : { left: weak(leakRight), right: strong };
  return {
    assignment,
    crosstalkLeft: crosstalk(leakLeft),
    crosstalkRight: crosstalk(leakRight),
    leakLeftLens: leak(leakLeft),
    leakRightLens: leak(leakRight),
    throughLeftLens: throughLeft,
    throughRightLens: throughRight,
  };
}

export function meridian(): House {
  const text = readFileSync(new URL('../../test-images/meridian.house.json', import.meta.url), 'utf8');
  const result = readHouse(JSON.parse(text));
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result.facts));
  return result.house;
}
