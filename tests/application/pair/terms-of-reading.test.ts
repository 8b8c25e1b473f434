import { expect, it } from 'vitest';
import { TERMS } from '../../../src/geometry/misalignment.ts';
import { fieldOf, termsOfReading, toFileUnit } from '../../../src/application/pair/terms-of-reading.ts';
import { TERM_FIELDS } from '../../../src/record/term-fields.ts';
import { sampleReading } from '../../report/sample-reading.ts';

it('gives ih, radians and fractions, and back the units of the file', () => {
  const reading = sampleReading;
  const terms = termsOfReading(reading);
  expect(terms.verticalOffset.value).toBeCloseTo(reading.misalignment.vertical_offset_pct.value / 100, 15);
  expect(terms.rotation.value).toBeCloseTo((reading.misalignment.rotation_deg.value * Math.PI) / 180, 15);
  for (const term of TERMS) {
    const { value, u } = reading.misalignment[fieldOf(term)];
    expect(toFileUnit(term, terms[term].value)).toBeCloseTo(value, 12);
    expect(toFileUnit(term, terms[term].u)).toBeCloseTo(u, 12);
  }
  expect(TERMS.map(fieldOf)).toEqual(TERM_FIELDS);
});
