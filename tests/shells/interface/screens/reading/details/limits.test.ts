import { expect, it } from 'vitest';
import {
  chooseFinding,
  findingsOfTerm,
} from '../../../../../../src/shells/interface/screens/reading/details/limits.tsx';
import { sampleFinding } from '../../../../../report/sample-reading.ts';

const near = sampleFinding({ code: 'rotation', value: 6, u: 0.1, limit: 8.6, seat: 'nearest-row' });
const far = sampleFinding({ code: 'rotation', value: 2, u: 0.1, limit: 8.6, seat: 'reference-seat' });
const most = sampleFinding({ code: 'rotation', value: 0.9, u: 0.1, limit: 1, unit: 'deg', level: 'maximum' });
const offset = sampleFinding({ code: 'vertical-offset', value: 9, u: 0.1, limit: 8.6, seat: 'nearest-row' });

it('finds what belongs to a term', () => {
  expect(findingsOfTerm([near, offset, most], 'rotation_deg')).toEqual([near, most]);
  expect(findingsOfTerm([near, offset, most], 'shear_pct')).toEqual([]);
});

it('takes the working limit from the chosen seat, and the severest of the working limits for another distance', () => {
  expect(chooseFinding([most, near, far], 'reference-seat')).toBe(far);
  expect(chooseFinding([most, far, near], 'nearest-row')).toBe(near);
  expect(chooseFinding([most, far, near], null)).toBe(near);
  expect(chooseFinding([most], 'nearest-row')).toBe(most);
  expect(chooseFinding([], null)).toBeUndefined();
});
