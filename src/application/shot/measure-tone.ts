/**
 * The photograph's tone curve from the target's grey steps: the exponent by which its light, as decoded, follows the
 * light that was there.
 *
 *   ln( (Y_k - Y_black) / surface_k ) = c + gamma ln(level_k),       gamma = 1 where the file is what it says
 *
 * Cameras bend the curve of their pictures to taste. Every ratio of light is then off by gamma in its logarithm, so
 * what the steps say enters the uncertainty of every ratio; it is not used to bend the curve back, because the steps on
 * a print may themselves be off. Shading over the strip is taken out with the surface through the marks.
 */
import type { Pixels } from '../../imaging/pixels.ts';
import type { Eye } from '../../kernel/eye.ts';
import { elementAt } from '../../kernel/linear-algebra.ts';
import type { Measured } from '../../kernel/measured.ts';
import type { Point } from '../../kernel/point.ts';
import { pixelsPerHeight, project, type View } from '../../kernel/view.ts';
import { solveWeighted, type WeightedRow } from '../../light/solve-weighted.ts';
import type { Chart } from '../../target/chart.ts';
import { greyCells } from '../../target/draw-picture.ts';
import { sampleLuminance } from './sample-light.ts';

/** How exactly a print keeps the steps, as a part of each. An assumption of ours. */
const STEP_U = 0.03;
/** Part of a cell's smaller side that its disc takes. */
const DISC_PART = 0.35;
const MIN_STEPS = 3;

/** Gamma; `undefined` where too few steps can be sampled. `lightAt`: what a full white would send, any unit. */
export function measureTone(
  pixels: Pixels,
  chart: Chart,
  eye: Eye,
  view: View,
  lightAt: (at: Point) => number,
): Measured | undefined {
  const strip = chart.greySteps.find((steps) => steps.eye === eye);
  if (!strip) return undefined;
  const sampled = greyCells(strip).map(({ level, left, right, top, bottom }) => {
    const at = { x: (left + right) / 2, y: (top + bottom) / 2 };
    const radius_px = DISC_PART * Math.min(right - left, top - bottom) * pixelsPerHeight(view);
    return { level, at, light: radius_px > 1 ? sampleLuminance(pixels, project(view, at), radius_px) : undefined };
  });
  const black = sampled.find(({ level }) => level === 0)?.light;
  if (!black) return undefined;
  const rows = sampled.flatMap(({ level, at, light }): WeightedRow[] => {
    if (level === 0 || !light || !(light.value > black.value)) return [];
    const value = light.value - black.value;
    const relativeU = Math.hypot(light.u / value, black.u / value, STEP_U);
    return [{ row: [1, Math.log(level)], value: Math.log(value / lightAt(at)), u: relativeU }];
  });
  const solution = rows.length >= MIN_STEPS ? solveWeighted(rows) : undefined;
  if (!solution) return undefined;
  const excess = solution.redundancy > 0 ? Math.max(1, solution.chiSquared / solution.redundancy) : 1;
  return { value: solution.parameters[1], u: Math.sqrt(excess * elementAt(solution.covariance, 1, 1)) };
}
