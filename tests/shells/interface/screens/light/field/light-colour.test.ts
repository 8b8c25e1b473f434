import { describe, expect, it } from 'vitest';
import { linearFromSrgb } from '../../../../../../src/imaging/srgb.ts';
import { colourOfLight } from '../../../../../../src/shells/interface/screens/light/field/light-colour.ts';

const channels = (colour: string) => /^rgb\((\d+) (\d+) (\d+)\)$/.exec(colour)!.slice(1).map(Number);

/** CIE L*, from relative luminance. */
function lightness(colour: string): number {
  const [r, g, b] = channels(colour).map((code) => linearFromSrgb(code / 255)) as [number, number, number];
  return 116 * Math.cbrt(0.2126 * r + 0.7152 * g + 0.0722 * b) - 16;
}

describe('colourOfLight', () => {
  it('rises in lightness in steps that are about even', () => {
    const steps = Array.from({ length: 20 }, (_, i) => lightness(colourOfLight(i / 20)));
    const rises = steps.slice(1).map((value, i) => value - steps[i]!);
    for (const rise of rises) {
      expect(rise).toBeGreaterThan(2);
      expect(rise).toBeLessThan(7);
    }
  });

  it('stays at its ends', () => {
    expect(colourOfLight(-1)).toBe(colourOfLight(0));
    expect(colourOfLight(2)).toBe(colourOfLight(1));
  });

  it('is nearly grey, so that neither eye’s colour is meant', () => {
    for (let share = 0; share <= 1; share += 0.1) {
      const [r, g, b] = channels(colourOfLight(share)) as [number, number, number];
      expect(Math.max(r, g, b) - Math.min(r, g, b)).toBeLessThan(40);
    }
  });
});
