import { expect, it } from 'vitest';
import {
  distanceOfSeat,
  seatOfFindings,
} from '../../../../../../src/shells/interface/screens/reading/details/seat-choice.tsx';
import { sampleReading } from '../../../../../report/sample-reading.ts';

const { house } = sampleReading;

it('takes the house’s seats', () => {
  expect(distanceOfSeat({ choice: 'nearest-row', own: '' }, house, 'metric')).toBe(house.nearest_row_ih);
  expect(distanceOfSeat({ choice: 'reference-seat', own: '' }, house, 'metric')).toBe(house.reference_seat_ih);
});

it('takes a distance that was typed in metres, with a point or a comma', () => {
  const expected = 12.5 / (house.picture_height_mm! / 1000);
  expect(distanceOfSeat({ choice: 'own', own: '12.5' }, house, 'metric')).toBeCloseTo(expected, 12);
  expect(distanceOfSeat({ choice: 'own', own: ' 12,5 ' }, house, 'metric')).toBeCloseTo(expected, 12);
  expect(distanceOfSeat({ choice: 'own', own: '2' }, { ...house, picture_height_mm: null }, 'metric')).toBe(2);
});

it('takes a distance that was typed in feet, or in feet and inches', () => {
  const expected = (41 * 0.3048) / (house.picture_height_mm! / 1000);
  for (const own of ['41', '40\' 12"']) {
    expect(distanceOfSeat({ choice: 'own', own }, house, 'inch')).toBeCloseTo(expected, 12);
  }
  expect(distanceOfSeat({ choice: 'own', own: '2' }, { ...house, picture_height_mm: null }, 'inch')).toBe(2);
});

it.each(['', '0', '-3', '0.1', '4000', 'far'])('does not take "%s"', (own) => {
  expect(distanceOfSeat({ choice: 'own', own }, house, 'metric')).toBeUndefined();
});

it('knows for which seats there are findings', () => {
  expect(seatOfFindings({ choice: 'reference-seat', own: '' })).toBe('reference-seat');
  expect(seatOfFindings({ choice: 'own', own: '8' })).toBeNull();
});
