/** How far from square a flat picture is seen, and from which side. */
import { radiansFromDegrees } from './angles.ts';
import { derivativeAt, type Homography } from './homography.ts';

const ORIGIN = { x: 0, y: 0 };

/** Angle between the line of sight to the picture's centre and the picture's normal, degrees. */
export function obliquityOf(photoFromChart: Homography): number {
  const { larger, smaller } = axesOf(photoFromChart);
  return Math.acos(Math.min(1, smaller / larger)) / radiansFromDegrees(1);
}

export interface Slant {
  /** Towards the right of those who face the picture, degrees; negative towards the left. */
  readonly aside_deg: number;
  /** Upwards, degrees. */
  readonly above_deg: number;
}

/**
 * The same angle, as seen from the picture's centre towards the camera. Where the picture itself hangs on the screen as
 * a trapezium, its own slant is a part of it.
 */
export function slantOf(photoFromChart: Homography): Slant {
  const angle_deg = obliquityOf(photoFromChart);
  const { xx, xy, yy } = axesOf(photoFromChart);
  // The direction that is foreshortened most. Of its two ends the nearer one is seen larger, where the divisor shrinks.
  const across = 0.5 * Math.atan2(2 * xy, xx - yy) + Math.PI / 2;
  const [x, y] = [Math.cos(across), Math.sin(across)];
  const side = photoFromChart[6] * x + photoFromChart[7] * y > 0 ? -1 : 1;
  return { aside_deg: side * angle_deg * x, above_deg: side * angle_deg * y };
}

/**
 * Seen at an angle a circle on the screen becomes an ellipse of axis ratio cos(angle), wherever the camera stands.
 * `xx`, `xy`, `yy`: how the chart's directions are stretched (the affine part, transposed, times itself).
 */
function axesOf(photoFromChart: Homography) {
  const [a, b, c, d] = derivativeAt(photoFromChart, ORIGIN);
  const [xx, xy, yy] = [a * a + c * c, a * b + c * d, b * b + d * d];
  const determinant = Math.abs(a * d - b * c);
  const sum = xx + yy;
  const larger = Math.sqrt((sum + Math.sqrt(Math.max(0, sum * sum - 4 * determinant * determinant))) / 2);
  return { xx, xy, yy, larger, smaller: determinant / larger };
}
