import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readingOf, DEFAULT_APERTURE_MM, defaultChain } from '../../../src/application/light/default-chain.ts';
import { readHouse } from '../../../src/record/house.ts';
import { readLightChain } from '../../../src/record/light-chain.ts';

const read = readHouse(JSON.parse(readFileSync('test-images/meridian.house.json', 'utf8')));
if (read.outcome === 'refused') throw new Error(JSON.stringify(read));
const { house } = read;
const start = { luminance_cd_m2: readingOf(55) };
const factorOf = (chain: ReturnType<typeof defaultChain>, code: string) =>
  chain.steps.find((step) => step.code === code)?.factor.value;

describe('usualChain', () => {
  it('is a chain that can be read again', () => {
    const chain = defaultChain({ start, house, readFromMetallicScreen: false });
    expect(readLightChain(JSON.parse(JSON.stringify(chain)))).toEqual({ outcome: 'read', chain });
  });

  it('takes the film from the house, and the same magnification where nobody says how wide the light was', () => {
    const chain = defaultChain({ start, house, readFromMetallicScreen: true });
    const { width, height } = DEFAULT_APERTURE_MM;
    const film_mm = house.film.picture_width_mm;
    const height_mm = house.film.picture_height_mm ?? film_mm / house.screen.picture_aspect;
    expect(factorOf(chain, 'aperture-area')).toBeCloseTo((film_mm * height_mm) / (width * height), 12);
    expect(factorOf(chain, 'screen-gain')).toBeUndefined();
  });

  it('light that was spread wider at the reading is closer together in the picture', () => {
    const picture_m = house.screen.picture_width_m;
    const wide = defaultChain({ start, house, readWidth_m: 2 * picture_m, readFromMetallicScreen: true });
    const same = defaultChain({ start, house, readFromMetallicScreen: true });
    expect(factorOf(wide, 'picture-area')! / factorOf(same, 'picture-area')!).toBeCloseTo(4, 12);
  });

  it('adds the gain of the metallic screen to a reading from a matt one', () => {
    expect(factorOf(defaultChain({ start, readFromMetallicScreen: false }), 'screen-gain')).toBe(2.5);
  });

  it('takes a reading to be 4 % sure where nobody says', () => {
    expect(readingOf(50)).toEqual({ value: 50, u: 2 });
    expect(readingOf(50, 1)).toEqual({ value: 50, u: 1 });
  });
});
