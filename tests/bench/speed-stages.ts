/** A child process of the speed bench: one cold pass through the stages of a measurement, timed; prints JSON. */
import { compareShots } from '../../src/application/pair/compare-shots.ts';
import { examineShot } from '../../src/application/shot/examine-shot.ts';
import { relatePair } from '../../src/application/pair/relate-pictures.ts';
import { type RolePhoto, readPhotographs } from '../../src/application/shot/read-photographs.ts';
import { photographsOf } from '../application/name-photographs.ts';
import type { ShotPair } from '../../src/application/pair/observe-pictures.ts';
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
const read = await readPhotographs(photographsOf(leftPath!, rightPath!));
finish('read and compare the files');
if (read.outcome === 'refused') throw new Error(`refused: ${read.refusal.code}`);
const [leftFile, rightFile] = read.photographs as [RolePhoto, RolePhoto];
const left = examineShot(cv, leftFile.photo.pixels, chart);
finish('examine the left shot');
const right = examineShot(cv, rightFile.photo.pixels, chart);
finish('examine the right shot');
if (left.outcome === 'refused' || right.outcome === 'refused') throw new Error('a shot was refused');
const shots: ShotPair = { left, right };
const compared = compareShots(shots, chart);
finish('compare the shots');
if (compared.outcome === 'refused') throw new Error(`refused: ${compared.code}`);
const photographs = { left: { ...leftFile, shot: left }, right: { ...rightFile, shot: right } };
const facts = { house: undefined, aspect: DEFAULT_ASPECT };
relatePair([photographs.left, photographs.right], { ...compared, photographs, strays: [] }, facts);
finish('relate the pictures');
detectMarks(cv, rightFile.photo.pixels, chart);
finish('(sighting alone, once more)');
console.log(JSON.stringify(stages));
