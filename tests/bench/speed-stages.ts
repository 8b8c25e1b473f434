/** A child process of the speed bench: one cold pass through the stages of a measurement, timed; prints JSON. */
import { compareShots } from '../../src/application/pair/compare-shots.ts';
import { examineShot, seenMarks } from '../../src/application/shot/examine-shot.ts';
import { pairOf } from '../../src/application/pair/judge-pair.ts';
import { readPair } from '../../src/application/shot/read-pair.ts';
import type { ShotPair } from '../../src/application/pair/observe-pictures.ts';
import { fitViews } from '../../src/geometry/fit-views.ts';
import { measureMisalignment } from '../../src/geometry/measure-misalignment.ts';
import { layoutChart } from '../../src/target/chart.ts';
import { loadOpenCv } from '../../src/vision/opencv/load-opencv.ts';
import { detectMarks } from '../../src/vision/detect-marks.ts';
import { DEFAULT_ASPECT } from '../../src/kernel/aspect.ts';

const [leftPath, rightPath] = process.argv.slice(2);
const stages: Record<string, number> = {};
let since = performance.now();
const finish = (stage: string) => {
  const now = performance.now();
  stages[stage] = now - since;
  since = now;
};

const chart = layoutChart(DEFAULT_ASPECT);
const { cv } = await loadOpenCv();
finish('load the vision library');
const photos = await readPair({ path: leftPath, name: leftPath }, { path: rightPath, name: rightPath });
finish('read and compare the files');
if (photos.outcome === 'refused') throw new Error(`refused: ${photos.refusal.code}`);
const left = examineShot(cv, photos.left.pixels, chart);
finish('examine the left shot');
const right = examineShot(cv, photos.right.pixels, chart);
finish('examine the right shot');
if (left.outcome === 'refused' || right.outcome === 'refused') throw new Error('a shot was refused');
const shots: ShotPair = { left, right };
const compared = compareShots(shots, chart);
finish('compare the shots');
if (compared.outcome === 'refused') throw new Error(`refused: ${compared.code}`);
const fit = fitViews([...seenMarks(left.marks), ...seenMarks(right.marks)], photos.left.pixels);
finish('fit the views');
if (fit.outcome === 'refused') throw new Error(`refused: ${fit.code}`);
measureMisalignment(pairOf(fit), DEFAULT_ASPECT);
finish('measure the misalignment');
detectMarks(cv, photos.right.pixels, chart);
finish('(detection alone, once more)');
console.log(JSON.stringify(stages));
