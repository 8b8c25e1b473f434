import { expect, it } from 'vitest';
import {
  actionOfKey,
  chooseSettings,
  factorAt,
  moveOfKey,
} from '../../../../../../src/shells/interface/screens/reading/viewer/view-settings.ts';
import { sampleReading } from '../../../../../report/sample-reading.ts';

it('begins with arrows and residuals as long as there is room for', () => {
  const settings = chooseSettings(sampleReading, 14);
  const longest = Math.max(...sampleReading.evidence.field.map(({ dx_pct, dy_pct }) => Math.hypot(dx_pct, dy_pct)));
  const drawn_ih = (factorAt(settings.arrowFactor) * longest) / 100;
  expect(drawn_ih).toBeLessThanOrEqual(0.14);
  expect(drawn_ih).toBeGreaterThan(0.14 / 2.51);
  const largest = Math.max(
    ...sampleReading.evidence.marks.filter(({ used }) => used).map(({ residual_px: [x, y] }) => Math.hypot(x, y)),
  );
  const drawn_px = factorAt(settings.residualFactor) * largest;
  expect(drawn_px).toBeLessThanOrEqual(0.05 * 1400);
  expect(drawn_px).toBeGreaterThan((0.05 * 1400) / 2.51);
  expect(settings.mode).toBe('both');
});

const press = (key: string, held: Partial<Record<'altKey' | 'ctrlKey' | 'metaKey', boolean>> = {}) => ({
  key,
  altKey: false,
  ctrlKey: false,
  metaKey: false,
  ...held,
});

it('moves, enlarges and goes from mark to mark', () => {
  expect(actionOfKey(press('+'))).toMatchObject({ type: 'zoom', factor: 1.25 });
  expect(actionOfKey(press('-'))).toMatchObject({ type: 'zoom', factor: 0.8 });
  // The arrow to the left shows more of the left: the photograph goes to the right.
  expect(actionOfKey(press('ArrowLeft'))).toMatchObject({ type: 'pan', dx: 60, dy: 0 });
  expect(actionOfKey(press('N'))).toEqual({ type: 'mark', move: 'next' });
  expect(actionOfKey(press('p'))).toEqual({ type: 'mark', move: 'previous' });
  expect(actionOfKey(press('0'))).toEqual({ type: 'fit' });
  expect(actionOfKey(press('x'))).toBeUndefined();
});

it('leaves keys of the menu and of the system alone', () => {
  expect(actionOfKey(press('1', { altKey: true }))).toBeUndefined();
  expect(actionOfKey(press('+', { ctrlKey: true }))).toBeUndefined();
  expect(moveOfKey(press('n', { metaKey: true }))).toBeUndefined();
});

it('goes through the list with the arrows', () => {
  expect(
    ['ArrowRight', 'ArrowLeft', 'ArrowUp', 'ArrowDown', 'Home', 'End', 'n', 'Tab'].map((key) => moveOfKey(press(key))),
  ).toEqual(['next', 'previous', 'up', 'down', 'first', 'last', 'next', undefined]);
});
