import { describe, expect, it } from 'vitest';
import { COLUMNS, forecastLight, LIGHT_SUSPECTS } from '../../src/diagnosis/forecast-light.ts';
import { USUAL_LIGHT } from '../../src/diagnosis/usual-house.ts';

const column = (rows: Float64Array, at: number) => rows.filter((_, i) => i % COLUMNS === at);

describe('forecastLight', () => {
  const forecasts = forecastLight();

  it('each forecast has weights that sum to 1, and numbers throughout', () => {
    for (const { rows } of forecasts) {
      expect(column(rows, 4).reduce((total, weight) => total + weight, 0)).toBeCloseTo(1, 12);
      expect(rows.every(Number.isFinite)).toBe(true);
    }
  });

  it('nothing wrong: the usual floor over the signal in one lens, its inverse in the other', () => {
    const { suspects, rows } = forecasts[0]!;
    expect(suspects).toEqual([]);
    const middle = Array.from(rows.subarray(COLUMNS, 2 * COLUMNS));
    // floor = leak over signal; z is its logarithm, blunt below 0.0005
    const { floor } = USUAL_LIGHT;
    expect(middle[0]).toBeCloseTo(Math.log((floor + 0.0005) / (1 + 0.0005 * floor)), 1);
    expect(middle[1]).toBeCloseTo(-middle[0]!, 12);
  });

  it('every fault stands alone once, and no pair twice', () => {
    const alone = forecasts.filter(({ suspects }) => suspects.length === 1);
    expect(alone).toHaveLength(LIGHT_SUSPECTS.length);
    const pairs = forecasts.filter(({ suspects }) => suspects.length === 2).map(({ suspects }) => new Set(suspects));
    expect(pairs.every((pair) => pair.size === 2)).toBe(true);
    const names = pairs.map((pair) => [...pair].map((suspect) => LIGHT_SUSPECTS.indexOf(suspect)).join());
    expect(new Set(names).size).toBe(pairs.length);
    expect(pairs.length).toBeGreaterThan(50);
  });

  it('is reckoned once', () => expect(forecastLight()).toBe(forecasts));
});
