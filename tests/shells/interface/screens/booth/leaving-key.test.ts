import { expect, it } from 'vitest';
import { isLeavingKey } from '../../../../../src/shells/interface/screens/booth/leaving-key.ts';

it.each(['Escape', 'Enter', ' ', 'a', 'Tab', 'F5', 'ArrowLeft'])('%s leads back', (key) => {
  expect(isLeavingKey({ key, repeat: false })).toBe(true);
  expect(isLeavingKey({ key, repeat: true })).toBe(false);
});

it.each(['Shift', 'Control', 'Alt', 'Meta', 'CapsLock', 'AudioVolumeUp', 'BrightnessDown'])('%s stays', (key) => {
  expect(isLeavingKey({ key, repeat: false })).toBe(false);
});
