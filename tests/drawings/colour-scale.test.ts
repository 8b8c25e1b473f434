import {
  differenceEuclidean,
  filterDeficiencyDeuter,
  filterDeficiencyProt,
  filterDeficiencyTrit,
  lab65,
  type Rgb,
} from 'culori';
import { describe, expect, it } from 'vitest';
import { colourOfAmount, cssColour } from '../../src/drawings/colour-scale.ts';
import { OVERLAY_LEFT, OVERLAY_RIGHT } from '../../src/drawings/overlay-layers.ts';

const shares = Array.from({ length: 41 }, (_, i) => i / 40);
const rgbOf = (share: number): Rgb => {
  const [r, g, b] = colourOfAmount(share);
  return { mode: 'rgb', r: r / 255, g: g / 255, b: b / 255 };
};
const lightness = (colour: Rgb) => lab65(colour)!.l;

describe('the colours of amounts', () => {
  const filters = {
    everybody: (colour: Rgb) => colour,
    'eyes without red': filterDeficiencyProt(1),
    'eyes without green': filterDeficiencyDeuter(1),
    'eyes without blue': filterDeficiencyTrit(1),
  } as const;

  it.each(Object.entries(filters))('become lighter with the amount for %s', (_, filter) => {
    const seen = shares.map((share) => lightness(filter(rgbOf(share)) as Rgb));
    for (let i = 1; i < seen.length; i++) expect(seen[i]).toBeGreaterThan(seen[i - 1]!);
    expect(seen.at(-1)! - seen[0]!).toBeGreaterThan(65);
  });

  it('rise in nearly even steps', () => {
    const steps = Array.from({ length: 8 }, (_, i) => lightness(rgbOf((i + 1) / 8)) - lightness(rgbOf(i / 8)));
    expect(Math.max(...steps) / Math.min(...steps)).toBeLessThan(1.7);
  });

  it('keep clear of the colours of the eyes', () => {
    const distance = differenceEuclidean('lab65');
    for (const share of shares) {
      for (const eye of [OVERLAY_LEFT, OVERLAY_RIGHT]) expect(distance(rgbOf(share), eye)).toBeGreaterThan(40);
    }
  });

  it('end at the ends of the scale', () => {
    expect(colourOfAmount(-1)).toEqual(colourOfAmount(0));
    expect(colourOfAmount(2)).toEqual(colourOfAmount(1));
    expect(cssColour(colourOfAmount(0))).toBe('rgb(58 32 66)');
  });
});
