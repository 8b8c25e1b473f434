/**
 * One examination and one fit of small drawn pictures, so that the first photograph finds everything loaded and compiled.
 */
import { fitJointViews } from '../geometry/fit-joint-views.ts';
import { measureField } from '../geometry/measure-field.ts';
import type { Pixels, Raster } from '../imaging/pixels.ts';
import { srgbFromLinear } from '../imaging/srgb.ts';
import { DEFAULT_ASPECT } from '../kernel/aspect.ts';
import { EYES, type Eye } from '../kernel/eye.ts';
import { encodePng } from '../photo/write-photo.ts';
import { type Chart, layoutChart } from '../target/chart.ts';
import { drawPicture } from '../target/draw-picture.ts';
import { formOfPicture, rasterise } from '../target/rasterise.ts';
import { compareShots } from './pair/compare-shots.ts';
import type { ShotPair } from './pair/observe-pictures.ts';
import { examineQuickly, seenMarks } from './shot/examine-shot.ts';

const HEIGHT_PX = 300;
/** Light of the drawn marks: short of burning out. */
const WHITE = 0.7;
/** And of the other eye's, enough to show that nothing moved: looking for a leak that is not there takes long. */
const LEAK = 0.02;

/** Throws where a drawn picture is refused, which is a fault of the program. */
export async function warmUp(): Promise<undefined> {
  const chart = layoutChart(DEFAULT_ASPECT);
  const [left, right] = [drawLight(chart, 'left'), drawLight(chart, 'right')];
  const pictures = { left: exposePixels(left, right), right: exposePixels(right, left) };
  const coding = encodePng(pictures.left);
  const shots = { left: examineQuickly(pictures.left, chart), right: examineQuickly(pictures.right, chart) };
  await coding;
  if (shots.left.outcome === 'refused' || shots.right.outcome === 'refused') throw new Error('the drawn pictures fail');
  compareShots(shots as ShotPair, chart);
  const seen = EYES.flatMap((eye) => seenMarks((shots as ShotPair)[eye].marks).filter((mark) => mark.eye === eye));
  const fit = fitJointViews(seen, pictures.left, chart.aspect);
  if (fit.outcome === 'refused') throw new Error('the drawn pictures have no view');
  measureField(fit);
  return undefined;
}

function drawLight(chart: Chart, eye: Eye): Raster {
  return rasterise(drawPicture(chart, eye), formOfPicture(chart, HEIGHT_PX));
}

function exposePixels({ width, height, data }: Raster, other: Raster): Pixels {
  const codeOf = (light: number, i: number) => 255 * srgbFromLinear(WHITE * light + LEAK * other.data[i]!);
  return { width, height, channels: 1, data: new Uint8Array(data.map(codeOf)) };
}
