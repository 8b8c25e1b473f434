/** Views of two eyes for the tests of geometry: a camera somewhere in the house, pictures displaced by explicit homographies. */
import type { SeenMark } from '../../src/geometry/fit-views.ts';
import { compose, type Homography, IDENTITY } from '../../src/kernel/homography.ts';
import type { RandomSource } from '../../src/kernel/random.ts';
import { type Lens, project } from '../../src/kernel/view.ts';
import { layoutChart } from '../../src/target/chart.ts';

export const ASPECT = 2.35;
export const PHOTO = { width: 3000, height: 2000 };

/** Square on: 1200 px to the picture height. */
export const FRONT: Homography = [1200, 0, 1499.5, 0, -1200, 999.5, 0, 0, 1];
/** From one side and a little below, the camera rolled. */
export const OBLIQUE: Homography = [1150, 70, 1460, 95, -1180, 1030, 0.06, -0.03, 1];

/** The right-eye picture lies displaced by `displaced` on the left-eye picture, the camera sees both. */
export function eyesOf(camera: Homography, displaced: Homography): { left: Homography; right: Homography } {
  return { left: camera, right: compose(camera, displaced) };
}

export const STILL = IDENTITY;

export const LENS: Lens = {
  centre: { x: 1499.5 + 6, y: 999.5 - 9 },
  radius_px: Math.hypot(PHOTO.width, PHOTO.height) / 2,
  k1: -0.045,
  k2: 0.012,
};

const marks = layoutChart(ASPECT).marks;

export interface Scatter {
  readonly random: RandomSource;
  /** Standard deviations along two axes turned by `turn`, px. */
  readonly sigma_px: readonly [number, number];
  readonly turn: number;
}

/** Every mark of the chart as seen through a lens, with normal errors of the covariance that it says. */
export function seeMarks(eyes: { left: Homography; right: Homography }, lens: Lens, scatter?: Scatter): SeenMark[] {
  const [s1, s2] = scatter?.sigma_px ?? [0.01, 0.01];
  const [c, s] = [Math.cos(scatter?.turn ?? 0), Math.sin(scatter?.turn ?? 0)];
  return marks.map((mark) => {
    const { x, y } = project({ photoFromChart: eyes[mark.eye], lens }, mark);
    const [e1, e2] = scatter ? [s1 * scatter.random.normal(), s2 * scatter.random.normal()] : [0, 0];
    return {
      eye: mark.eye,
      at: { x: mark.x, y: mark.y },
      seen: { x: x + c * e1 - s * e2, y: y + s * e1 + c * e2 },
      covariance: [c * c * s1 * s1 + s * s * s2 * s2, c * s * (s1 * s1 - s2 * s2), s * s * s1 * s1 + c * c * s2 * s2],
    };
  });
}
