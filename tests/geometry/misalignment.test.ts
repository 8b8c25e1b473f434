import { describe, expect, it } from 'vitest';
import { fieldOfTerms, TERMS, type Term, type TermVector } from '../../src/geometry/misalignment.ts';

function only(term: Term, value: number): TermVector {
  return Object.fromEntries(TERMS.map((t) => [t, t === term ? value : 0])) as unknown as TermVector;
}

describe('fieldOfTerms', () => {
  const at = { x: 0.7, y: -0.3 };
  it.each([
    ['verticalOffset', 0, 1],
    ['horizontalOffset', 1, 0],
    ['rotation', 0.3, 0.7],
    ['size', 0.7, -0.3],
    ['stretch', 0.7, 0.3],
    ['shear', -0.3, 0.7],
    ['keystoneH', 0.49, -0.21],
    ['keystoneV', -0.21, 0.09],
  ] as const)('%s as it is defined', (term, x, y) => {
    const field = fieldOfTerms(only(term, 2), at);
    expect(field.x).toBeCloseTo(2 * x, 14);
    expect(field.y).toBeCloseTo(2 * y, 14);
  });

  it('adds all terms up', () => {
    const all = Object.fromEntries(TERMS.map((term, i) => [term, 0.01 * (i + 1)])) as unknown as TermVector;
    const sum = TERMS.map((term) => fieldOfTerms(only(term, all[term]), at)).reduce((a, b) => ({
      x: a.x + b.x,
      y: a.y + b.y,
    }));
    expect(fieldOfTerms(all, at).x).toBeCloseTo(sum.x, 14);
    expect(fieldOfTerms(all, at).y).toBeCloseTo(sum.y, 14);
  });
});
