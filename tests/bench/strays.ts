/**
 * Stray copies: how many are found, how many are claimed where there are none, and what looking for them costs.
 *
 *   npx tsx tests/bench/strays.ts [--healthy 30] [--houses 4] [--seed 1] [--megapixels 3]
 *
 * Each house is drawn once and photographed with copies of 0.5, 1 and 3 % at several displacements.
 */
import { parseArgs } from 'node:util';
import { compareShots } from '../../src/application/pair/compare-shots.ts';
import { examineShot } from '../../src/application/shot/examine-shot.ts';
import { findStrays } from '../../src/application/pair/find-strays.ts';
import type { Pixels } from '../../src/imaging/pixels.ts';
import type { Point } from '../../src/kernel/point.ts';
import { median } from '../../src/kernel/statistics.ts';
import { layoutChart } from '../../src/target/chart.ts';
import { StrayHouse } from '../application/pair/photograph-strays.ts';
import { formatTable } from './format-table.ts';
import { sizeOf } from './measure-set.ts';

const { values: options } = parseArgs({
  options: {
    healthy: { type: 'string', default: '30' },
    houses: { type: 'string', default: '4' },
    seed: { type: 'string', default: '1' },
    megapixels: { type: 'string', default: '3' },
  },
});
const STRENGTHS = [0.005, 0.01, 0.03];
const OFFSETS: readonly Point[] = [
  { x: 0.02, y: 0.85 },
  { x: -0.02, y: 0.55 },
  { x: 0.03, y: -0.7 },
  { x: -0.05, y: -0.4 },
  { x: 0.07, y: 0.08 },
  { x: 0.45, y: 0.04 },
];
const chart = layoutChart();
const size = sizeOf(Number(options.megapixels));
const times: number[] = [];

function straysIn({ left, right }: { left: Pixels; right: Pixels }) {
  const [l, r] = [examineShot(undefined, left, chart), examineShot(undefined, right, chart)];
  if (l.outcome === 'refused' || r.outcome === 'refused') return undefined;
  const shots = { left: l, right: r };
  const compared = compareShots(shots, chart);
  if (compared.outcome === 'refused') return undefined;
  const started = performance.now();
  const found = findStrays(shots, compared.observations, compared.views, chart);
  times.push(performance.now() - started);
  return found;
}

let claimed = 0;
let healthy = 0;
for (let i = 0; i < Number(options.healthy); i++) {
  const found = straysIn(new StrayHouse(Number(options.seed) + i, size).photographPair(undefined, i));
  if (!found) continue;
  healthy++;
  if (found.length > 0) claimed++;
}
console.log(`Healthy pairs: ${healthy}, with a stray claimed: ${claimed} (goal: 0)`);
if (times.length > 0) {
  const worst = Math.max(...times);
  console.log(`Looking takes ${median(times).toFixed(1)} ms (median, warm), ${worst.toFixed(1)} ms at most`);
}

const rows: string[][] = [];
const houses = Array.from({ length: Number(options.houses) }, (_, i) => new StrayHouse(Number(options.seed) + i, size));
for (const offset of OFFSETS) {
  for (const strength of STRENGTHS) {
    const results = houses.map((house, i) => straysIn(house.photographPair({ offset, strength }, 100 + i)));
    const looked = results.filter((found) => found !== undefined);
    const right = looked.flatMap((found) =>
      found.filter(
        ({ eye, offset: { x, y } }) => eye === 'left' && Math.hypot(x.value - offset.x, y.value - offset.y) < 0.005,
      ),
    );
    const wrong = looked.flat().length - right.length;
    const off = right.map(({ strength: { value } }) => value / strength - 1);
    const z = right.map(({ strength: { value, u } }) => Math.abs(value - strength) / u);
    rows.push([
      `${offset.x}, ${offset.y}`,
      `${100 * strength} %`,
      `${right.length} of ${looked.length}`,
      String(wrong),
      off.length > 0 ? `${(100 * median(off)).toFixed(1)} %` : '',
      z.length > 0 ? Math.max(...z).toFixed(1) : '',
    ]);
  }
}
console.log(formatTable(['displacement, ih', 'strength', 'found', 'elsewhere', 'strength off by', 'largest z'], rows));
