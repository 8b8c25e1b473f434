/**
 * What a movement of the second photograph's view does to the eight terms and to d_y at one place: linear functions of the
 * shifts over a grid, J(c)^-1 times each of them carried into the frame of the field.
 */
import { derivativeAt, type Homography } from '../kernel/homography.ts';
import { createMatrix, type Matrix } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { type Movement, onChart } from './estimate-movement.ts';
import type { JointFit } from './fit-joint-views.ts';
import { placeInCommonFrame, predictJoint, smoothBasis } from './joint-view-model.ts';
import { prepareTermFit } from './measure-misalignment.ts';
import { TERMS } from './misalignment.ts';
import type { SeenPlace } from './movement-process.ts';
import { pictureGrid } from './rectify-mean.ts';

const GRID = { columns: 13, rows: 7 };

type Seen = Pick<JointFit, 'parameters' | 'frame' | 'scale_px' | 'centre_px'>;

/** Where and how the photograph shows a point of the right-eye picture. */
function seenPlace({ parameters, frame, scale_px, centre_px }: Seen, chart: Point): SeenPlace {
  const { seen, slope } = predictJoint(parameters, frame, 'right', chart);
  return {
    at: { x: centre_px.x + scale_px * seen.x, y: centre_px.y + scale_px * seen.y },
    chart,
    slope: [scale_px * slope[0], scale_px * slope[1], scale_px * slope[2], scale_px * slope[3]],
  };
}

/**
 * @param chartFromCommon of the field, measure-field.ts.
 * @param worst the place whose d_y is asked for, chart ih.
 * @returns 9 x 9, in the order of `TERMS`, then d_y; ih, radians, fractions.
 * @example
 * propagateMovement(fit, field.chartFromCommon, movement, field.worstVertical.at);
 */
export function propagateMovement(
  fit: Seen,
  chartFromCommon: Homography,
  { covarianceOf }: Movement,
  worst: Point,
): Matrix {
  const grid = pictureGrid(fit.frame.aspect, GRID.columns, GRID.rows);
  const termsOf = prepareTermFit(grid);
  const charts = [...grid, worst];
  const places = charts.map((chart) => seenPlace(fit, chart));
  const functions = createMatrix(TERMS.length + 1, 2 * charts.length);
  const nothing = grid.map(() => ({ x: 0, y: 0 }));
  charts.forEach((chart, i) => {
    const common = placeInCommonFrame(fit.parameters, 'right', chart, smoothBasis(chart, fit.frame.aspect));
    const [xx, xy, yx, yy] = derivativeAt(chartFromCommon, common);
    [
      { x: 1, y: 0 },
      { x: 0, y: 1 },
    ].forEach((pixel, k) => {
      const { x, y } = onChart(places[i], pixel);
      const moved = { x: xx * x + xy * y, y: yx * x + yy * y };
      const column = 2 * i + k;
      if (i === grid.length) functions.data[TERMS.length * functions.cols + column] = moved.y;
      else {
        termsOf(nothing.with(i, moved)).forEach((v, r) => {
          functions.data[r * functions.cols + column] = v;
        });
      }
    });
  });
  return covarianceOf(functions, places);
}
