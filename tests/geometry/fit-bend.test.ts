import { describe, expect, it } from 'vitest';
import { fitBend, type PlacedMark } from '../../src/geometry/fit-bend.ts';
import { type FittedViews, fitViews } from '../../src/geometry/fit-views.ts';
import { rootMeanSquare } from '../../src/kernel/statistics.ts';
import { project, type View } from '../../src/kernel/view.ts';
import { ASPECT, type Conditions, seeWarped } from './warped-views.ts';

function leftPicture(conditions: Conditions): { view: View; marks: PlacedMark[] } {
  const { marks, size } = seeWarped({ noise_px: 0.05, ...conditions }, 3);
  const own = marks.filter(({ eye }) => eye === 'left');
  const fit = fitViews(marks, size) as FittedViews;
  expect(fit.outcome).toBe('estimated');
  return { view: fit.views.left!, marks: own.map(({ eye, at, seen }) => ({ eye, at, seen, u_px: 0.3 })) };
}

const missed = (view: View, marks: readonly PlacedMark[]) =>
  rootMeanSquare(
    marks.map(({ at, seen }) => {
      const place = project(view, at);
      return Math.hypot(place.x - seen.x, place.y - seen.y);
    }),
  );

describe('fitBend', () => {
  it.each([
    ['a screen of one width radius, 20 degrees aside', { radius_widths: 1, aside_deg: 20 }],
    ['a screen of two widths radius, 15 degrees aside', { radius_widths: 2, aside_deg: 15 }],
    ['a pincushion of 1 %', { pincushion: 0.01, axis_ih: 0.55 }],
  ])('follows %s to within a pixel', (_, conditions) => {
    const { view, marks } = leftPicture(conditions);
    const bent = fitBend(marks, view, ASPECT)!;
    expect(missed(bent.view, marks)).toBeLessThan(1);
    expect(missed(bent.view, marks)).toBeLessThan(0.4 * missed(view, marks));
  });

  it('finds marks that it was not shown', () => {
    const { view, marks } = leftPicture({ radius_widths: 2, aside_deg: 15 });
    const hidden = marks.filter((_, i) => i % 5 === 2);
    const bent = fitBend(
      marks.filter((_, i) => i % 5 !== 2),
      view,
      ASPECT,
    )!;
    expect(missed(bent.view, hidden)).toBeLessThan(1.5);
  });

  it('leaves out marks that were taken for others', () => {
    const { view, marks } = leftPicture({ radius_widths: 2, aside_deg: 15 });
    const wrong = new Set([4, 17, 30]);
    const given = marks.map((mark, i) =>
      wrong.has(i) ? { ...mark, seen: { x: mark.seen.x + 60, y: mark.seen.y } } : mark,
    );
    const bent = fitBend(given, view, ASPECT)!;
    expect(given.map((_, i) => i).filter((i) => !bent.agreeing[i])).toEqual([...wrong]);
    expect(missed(bent.view, marks)).toBeLessThan(1);
  });

  it('leaves a handful of marks to the plane', () => {
    const { view, marks } = leftPicture({});
    expect(fitBend(marks.slice(0, 9), view, ASPECT)).toBeUndefined();
  });
});
