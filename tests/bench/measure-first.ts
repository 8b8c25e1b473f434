/** Rows of the first tables that ask for more than one reading, or for a closing photograph. */
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { measurePhotographs } from '../../src/application/measure-photographs.ts';
import type { PhotographSource } from '../../src/application/shot/read-photographs.ts';
import { compareEntries, type ComparedEntry } from '../../src/logbook/compare-entries.ts';
import { encodeJpeg } from '../../src/photo/write-photo.ts';
import type { UnwordedReading } from '../../src/record/reading.ts';
import { planSeries, type SeriesRole } from '../../src/scene/photograph-series.ts';
import { renderShot } from '../../src/scene/render-shot.ts';
import { sceneMisalignmentTruth } from '../../src/scene/truth.ts';
import { drawHouse, type House } from './draw-house.ts';
import { HOUSE_CONDITIONS } from './house-conditions.ts';
import { sizeOf } from './measure-set.ts';

interface FirstRequest {
  readonly condition: string;
  readonly houses: number;
  readonly megapixels: number;
  readonly folder: string;
}

function drawFirst({ condition, megapixels }: FirstRequest, seed: number): House {
  const found = HOUSE_CONDITIONS.find(({ name }) => name === condition)!;
  return drawHouse(seed, found, sizeOf(megapixels), false);
}

/** The photographs of a series, in the order in which they were taken. */
async function photograph({ set, ...house }: House, order: readonly SeriesRole[], folder: string): Promise<string[]> {
  const paths: string[] = [];
  for (const { shot, noiseSeed } of planSeries(set, { order, ...house })) {
    const path = join(folder, `first-${paths.length}.jpg`);
    await writeFile(path, await encodeJpeg(renderShot(set.scene, shot, noiseSeed).pixels, set.jpegQuality));
    paths.push(path);
  }
  return paths;
}

const measure = (photographs: readonly PhotographSource[], aspect: number) =>
  measurePhotographs({ photographs, aspect, softwareVersion: 'bench' });

/** Left, right and once more left as the closing photograph: how often the offset lies within what is stated for it. */
export async function measureClosing(request: FirstRequest): Promise<{ held: number; measured: number }> {
  let [held, measured] = [0, 0];
  for (let seed = 1; seed <= request.houses; seed++) {
    const house = drawFirst(request, seed);
    const [left, right, closing] = await photograph(house, ['left', 'right', 'left'], request.folder);
    const reading = await measure(
      [
        { role: 'left-lens', path: left! },
        { role: 'right-lens', path: right! },
        { role: 'closing', path: closing! },
      ],
      house.set.scene.aspect,
    );
    for (const path of [left!, right!, closing!]) await rm(path);
    if (reading.outcome === 'refused') continue;
    measured++;
    const truth = 100 * sceneMisalignmentTruth(house.set.scene, house.set.shots.left).terms.verticalOffset;
    const { value, u_repeat } = reading.misalignment.vertical_offset_pct;
    if (Math.abs(value - truth) <= 2 * u_repeat!) held++;
  }
  return { held, measured };
}

/** Two sets of photographs of the same machine, compared as the logbook compares two entries of one print. */
export async function compareUntouched(
  request: FirstRequest & { readonly of: readonly SeriesRole[] },
): Promise<{ changed: number; compared: number }> {
  let [changed, compared] = [0, 0];
  for (let seed = 1; seed <= request.houses; seed++) {
    const house = drawFirst(request, seed);
    const paths = await photograph(house, [...request.of, ...request.of], request.folder);
    const read = (first: number) =>
      measure(
        request.of.map((role, i) => ({ role: role === 'bare' ? role : `${role}-lens`, path: paths[first + i]! })),
        house.set.scene.aspect,
      );
    const [before, after] = [await read(0), await read(request.of.length)];
    for (const path of paths) await rm(path);
    const comparison = compareEntries(entryOf('1', before), entryOf('2', after));
    if (comparison.outcome === 'not-measured') continue;
    compared++;
    if (comparison.verdict !== 'no-significant-change') changed++;
  }
  return { changed, compared };
}

/** What a comparison looks at of an entry. */
function entryOf(id: string, reading: UnwordedReading): ComparedEntry {
  const entry = {
    reading,
    print: 'print',
    house: null,
    saved_at: `2026-01-0${id}T00:00:00Z`,
    follows: null,
    turns_made: [],
  };
  return { id, entry } as unknown as ComparedEntry;
}
