import { describe, expect, it } from 'vitest';
import { frameCurve, turnOf } from '../../../../../src/shells/interface/screens/polarizers/null-curve.tsx';
import { searchMadeUp } from '../../../../interface/polarizers-situations.ts';

function found(situation: 'null-turns' | 'null-steps') {
  const search = searchMadeUp(situation);
  if (search.outcome === 'refused') throw new Error('refused');
  return search;
}

describe('frameCurve', () => {
  it.each(['null-turns', 'null-steps'] as const)(
    '%s: everything measured and the null stand within it',
    (situation) => {
      const search = found(situation);
      const { placeX, placeY, xTicks, yTicks } = frameCurve(search);
      for (const [i, { leak_pct }] of search.shots.entries()) {
        const x = placeX(turnOf(search, i));
        expect(x).toBeGreaterThan(0);
        expect(x).toBeLessThan(1);
        expect(placeY(leak_pct.value - 2 * leak_pct.u)).toBeGreaterThanOrEqual(0);
        expect(placeY(leak_pct.value + 2 * leak_pct.u)).toBeLessThanOrEqual(1);
      }
      expect(placeX(search.curve.null_at)).toBeGreaterThan(placeX(turnOf(search, 0)));
      expect(placeY(0)).toBe(0);
      for (const ticks of [xTicks, yTicks]) {
        expect(ticks.length).toBeGreaterThan(2);
        expect(ticks).toEqual([...ticks].sort((a, b) => a - b));
      }
      expect(xTicks.every((tick) => placeX(tick) >= 0 && placeX(tick) <= 1)).toBe(true);
    },
  );

  it('counts steps in whole photographs', () => {
    expect(frameCurve(found('null-steps')).xTicks.every((tick) => Number.isInteger(tick))).toBe(true);
  });

  it('is not stretched by a curve that climbs beyond all that was measured', () => {
    const search = found('null-turns');
    const far = { ...search, curve: { ...search.curve, points: [...search.curve.points, [60, 300] as const] } };
    expect(frameCurve(far).yTicks).toEqual(frameCurve(search).yTicks);
    expect(frameCurve(far).placeY(300)).toBeGreaterThan(10);
  });
});
