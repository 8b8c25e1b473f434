import { describe, expect, it } from 'vitest';
import { flatten, place, rectangle, reversed, sector } from '../../src/target/shapes.ts';
import { areaOf } from './area-of.ts';

const centre = { x: 0.3, y: -0.2 };

describe('outlines', () => {
  it('have the areas of plane geometry', () => {
    expect(areaOf(rectangle({ left: -1, right: 2, bottom: 0, top: 0.5 }))).toBeCloseTo(1.5, 12);
    // Sector of a disc: r^2 t / 2. Part of a ring: (R^2 - r^2) t / 2.
    expect(areaOf(sector(centre, 0, 0.5, 20, 110))).toBeCloseTo((0.25 * Math.PI) / 4, 12);
    expect(areaOf(sector(centre, 0.4, 0.5, -30, 200))).toBeCloseTo(((0.25 - 0.16) * ((230 * Math.PI) / 180)) / 2, 12);
  });

  it('count as holes when they run the other way', () => {
    const ring = sector(centre, 0.4, 0.5, 0, 90);
    expect(areaOf(reversed(ring))).toBeCloseTo(-areaOf(ring), 12);
  });

  it('grow with the square of the scale when they are placed', () => {
    const ring = sector(centre, 0.4, 0.5, 0, 90);
    expect(areaOf(place(ring, { x: 5, y: 6 }, 3))).toBeCloseTo(9 * areaOf(ring), 12);
  });

  it('flatten to chords that stay within the tolerance of the arc', () => {
    const arc = { ...centre, radius: 0.5, from_deg: 10, to_deg: 190 };
    const corners = flatten([arc], 1e-4);
    let farthest = 0;
    corners.slice(1).forEach((b, i) => {
      const a = corners[i]!;
      farthest = Math.max(farthest, 0.5 - Math.hypot((a.x + b.x) / 2 - centre.x, (a.y + b.y) / 2 - centre.y));
    });
    expect(farthest).toBeLessThanOrEqual(1e-4);
    expect(farthest).toBeGreaterThan(5e-5);
  });
});
