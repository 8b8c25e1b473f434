import { describe, expect, it } from 'vitest';
import { addressOf, FIRST_SCREEN, readScreen, SCREENS } from '../../../../src/shells/interface/frame/screens.ts';

describe('the screen in the address', () => {
  it('comes back as it was written', () => {
    for (const screen of SCREENS) expect(readScreen(addressOf(screen))).toBe(screen);
  });

  it('is the first one where the address names none', () => {
    for (const fragment of ['', '#', '#/', '#/elsewhere', '#/toString'])
      expect(readScreen(fragment)).toBe(FIRST_SCREEN);
    expect(FIRST_SCREEN).toBe('shots');
  });
});
