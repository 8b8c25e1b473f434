/** Two photographs made of frames, measured: the truth of the scene must lie within what the reading says of itself. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createLiveWatch, type TakenShot } from '../../../src/application/live/live-watch.ts';
import { measurePhotographs } from '../../../src/application/measure-photographs.ts';
import { photographsOf } from '../name-photographs.ts';
import type { Eye } from '../../../src/kernel/eye.ts';
import type { MeasuredReading } from '../../../src/record/reading.ts';
import { TERM_FIELDS } from '../../../src/record/term-fields.ts';
import { SCENE_TERMS } from '../../../src/scene/terms.ts';
import { renderStage, standVideoCamera, truthOfStage } from '../../interface/simulated-camera.ts';
import { projectionist, THROUGH } from './filmed.ts';

const FRAMES = 16;
const WEAVE_PX = 0.2;
const stage = renderStage(standVideoCamera());
const truth = truthOfStage(stage);

function take(eye: Eye): TakenShot {
  const watch = createLiveWatch(2.35);
  const camera = projectionist(watch, stage);
  camera.run(9, THROUGH[eye], WEAVE_PX);
  watch.begin({ slot: `${eye}-lens`, frames: FRAMES });
  return camera.run(FRAMES, THROUGH[eye], WEAVE_PX).taken!;
}

let folder = '';
let reading: MeasuredReading;
const shots = { left: take('left'), right: take('right') };

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'averaged-'));
  const paths = { left: join(folder, 'left.png'), right: join(folder, 'right.png') };
  for (const eye of ['left', 'right'] as const) {
    const { data, width, height } = shots[eye].pixels;
    const picture = sharp(data as Uint16Array, { raw: { width, height, channels: 1 } });
    await picture.toColourspace('grey16').png().toFile(paths[eye]);
  }
  const measured = await measurePhotographs({
    photographs: photographsOf(paths.left, paths.right),
    softwareVersion: 'test',
  });
  if (measured.outcome !== 'measured') throw new Error(JSON.stringify(measured));
  reading = measured as unknown as MeasuredReading;
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('photographs of averaged frames', () => {
  it('hold as many frames as were asked for, and how far the film wove', () => {
    for (const { count, wander_px } of [shots.left, shots.right]) {
      expect(count).toBe(FRAMES);
      for (const axis of ['x', 'y'] as const) {
        expect(wander_px![axis]).toBeGreaterThan(0.5 * WEAVE_PX);
        expect(wander_px![axis]).toBeLessThan(1.6 * WEAVE_PX);
      }
    }
  });

  it.each(TERM_FIELDS.map((field, i) => [field, SCENE_TERMS[i]!] as const))(
    'measure %s within its expanded uncertainty',
    (field, term) => {
      const { value, u } = reading.misalignment[field];
      expect(Math.abs(value - truth[term])).toBeLessThan(2 * u);
    },
  );

  it('measure within their standard uncertainty on the whole', () => {
    const scores = TERM_FIELDS.map(
      (field, i) => (reading.misalignment[field].value - truth[SCENE_TERMS[i]!]) / reading.misalignment[field].u,
    );
    const rms = Math.sqrt(scores.reduce((sum, score) => sum + score * score, 0) / scores.length);
    expect(rms).toBeLessThan(1.5);
  });

  it('are measured finely enough to be of use', () => {
    expect(reading.misalignment.vertical_offset_pct.u_repeat).toBeLessThan(0.02);
  });

  it('are told apart by eye', () => {
    expect(reading.eyes.assignment).toBe('correct');
  });
});
