/** What rounds have shown, stated in the house: on readings made by hand, and on photographs whose truth is known. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { TurnedRound } from '../../../src/application/turns/find-picture-moved.ts';
import { learnFromRounds } from '../../../src/application/turns/learn-from-rounds.ts';
import type { MadeTurn } from '../../../src/application/turns/move-adjustments.ts';
import { takeLearned } from '../../../src/application/turns/take-learned.ts';
import { measurePhotographs } from '../../../src/application/measure-photographs.ts';
import { photographsOf } from '../name-photographs.ts';
import { compose, type Homography } from '../../../src/kernel/homography.ts';
import { type House, readHouse } from '../../../src/record/house.ts';
import type { MeasuredReading } from '../../../src/record/reading.ts';
import type { TruthRecord } from '../../../src/scene/truth-record.ts';
import { meridian } from '../../limits/reading-of.ts';
import { sampleReading } from '../../report/sample-reading.ts';
import { TEST_IMAGES } from '../../scene/test-image-sets.ts';

const knob = {
  kind: 'unknown',
  id: 'knob',
  label: 'knob at the side, above the ring',
  moves: 'right',
  affects: 'vertical',
  range_turns: 6,
  position_turns: 0.5,
  backlash_turns: 0.0625,
  smallest_useful_turn: 0.03125,
} as const;

const houseWith = (some: Partial<Record<keyof typeof knob, unknown>> = {}): House => {
  const house = meridian();
  const adjustments = [...house.attachment!.adjustments, { ...knob, ...some }] as never;
  return { ...house, attachment: { ...house.attachment!, adjustments } };
};

type Picture = 'left' | 'right';

/** The reading after one picture went up by `pct` of the picture height, seen by a camera that moved by `camera_px`. */
function afterMove(before: MeasuredReading, picture: Picture, pct: number, camera_px = 0): MeasuredReading {
  const up: Homography = [1, 0, 0, 0, 1, pct / 100, 0, 0, 1];
  const camera: Homography = [1, 0, camera_px, 0, 1, camera_px, 0, 0, 1];
  const { left, right } = before.evidence.photo_from_chart;
  const moved = (eye: Picture, h: Homography) => compose(camera, eye === picture ? compose(h, up) : h);
  const { vertical_offset_pct: v } = before.misalignment;
  const change = picture === 'right' ? pct : -pct;
  return {
    ...before,
    shots: before.shots.map((shot) => ({ ...shot, sha256: shot.sha256.split('').toReversed().join('') })),
    misalignment: { ...before.misalignment, vertical_offset_pct: { ...v, value: v.value + change } },
    evidence: {
      ...before.evidence,
      photo_from_chart: { left: moved('left', left as Homography), right: moved('right', right as Homography) },
    },
  };
}

const turn = (amount = 1 / 4, direction: MadeTurn['direction'] = 'clockwise', adjustment = 'knob'): MadeTurn => ({
  adjustment,
  direction,
  turns: amount,
});

interface Learned {
  readonly house?: House;
  readonly before?: TurnedRound['reading'];
  readonly after?: TurnedRound['reading'];
  readonly made?: readonly MadeTurn[];
}

function learn({
  house = houseWith(),
  before = sampleReading,
  after = afterMove(sampleReading, 'right', -0.2),
  made = [turn()],
}: Learned = {}) {
  const rounds = [
    { reading: before, made: [] },
    { reading: after, made },
  ];
  const result = learnFromRounds({ house, positionsFollow: true, rounds });
  if (result.outcome === 'refused') throw new Error(result.code);
  return result.described;
}

const take = (learned: Learned = {}) =>
  takeLearned(learned.house ?? houseWith(), learn(learned).adjustments, sampleReading.house.aspect);

function effectIn(house: House) {
  const adjustment = house.attachment!.adjustments.find(({ id }) => id === 'knob')!;
  if (adjustment.kind !== 'stated') throw new Error(adjustment.kind);
  return adjustment;
}

describe('the house afterwards', () => {
  it('states the effect, and keeps everything else of the adjustment and of the house', () => {
    const house = take();
    const { effect_per_turn, effect_u_pct, ...kept } = effectIn(house);
    expect(effect_per_turn.vertical_pct! / -0.8).toBeCloseTo(1, 1);
    expect(effect_u_pct).toBeGreaterThan(2);
    expect(effect_u_pct).toBeLessThan(40);
    const { affects: _, ...travel } = knob;
    expect(kept).toEqual({ ...travel, kind: 'stated' });
    expect(readHouse(house)).toMatchObject({ outcome: 'read' });
    expect(house.attachment!.adjustments.slice(0, -1)).toEqual(meridian().attachment!.adjustments);
  });

  it.each([
    ['right', 'clockwise', 0.2, 1],
    ['right', 'counter-clockwise', 0.2, -1],
    ['apart', 'clockwise', 0.2, 1],
  ] as const)('%s picture, %s: right minus left by %f, sign %f', (moves, direction, pct, sign) => {
    const after = afterMove(sampleReading, 'right', pct);
    const house = houseWith({ moves });
    const { effect_per_turn } = effectIn(take({ house, after, made: [turn(1 / 4, direction)] }));
    expect(Math.sign(effect_per_turn.vertical_pct!)).toBe(sign);
    expect(Math.abs(effect_per_turn.vertical_pct!)).toBeGreaterThan(0.6);
  });

  it('stays as it was where nothing was turned, and where nothing moved', () => {
    const house = houseWith();
    expect(take({ house, made: [] })).toBe(house);
    expect(take({ house, made: [turn(), turn(1 / 4, 'counter-clockwise')] })).toBe(house);
    expect(take({ house, after: afterMove(sampleReading, 'right', 0) })).toBe(house);
  });

  it('does not describe by one figure what acts in a curve', () => {
    const house = take({ made: [turn(1 / 180, 'clockwise', 'whole-attachment')] });
    expect(house.attachment!.adjustments.find(({ id }) => id === 'whole-attachment')).toEqual(
      meridian().attachment!.adjustments.find(({ id }) => id === 'whole-attachment'),
    );
  });
});

describe('which picture moved', () => {
  it('is told where the camera stood still', () => {
    expect(learn({ after: afterMove(sampleReading, 'left', 0.2) }).other_picture).toBe('knob');
    expect(learn({ after: afterMove(sampleReading, 'right', -0.2) }).other_picture).toBeNull();
  });

  it('is not told where the camera moved, where several were turned, and where nothing moved', () => {
    expect(learn({ after: afterMove(sampleReading, 'left', 0.2, 40) }).other_picture).toBeNull();
    const made = [turn(), turn(1 / 8, 'clockwise', 'upper-screw')];
    expect(learn({ after: afterMove(sampleReading, 'left', 0.2), made }).other_picture).toBeNull();
    expect(learn({ after: afterMove(sampleReading, 'left', 0.001) }).other_picture).toBeNull();
  });
});

it('learns from photographs what the simulated screw did', async () => {
  const read = async (set: string) => {
    const path = (lens: string) => join(TEST_IMAGES, set, `${lens}-lens.jpg`);
    const reading = await measurePhotographs({
      photographs: photographsOf(path('left'), path('right')),
      softwareVersion: '0.0.0',
    });
    if (reading.outcome === 'refused') throw new Error(reading.refusal.code);
    const truth: TruthRecord = JSON.parse(readFileSync(join(TEST_IMAGES, set, 'truth.json'), 'utf8'));
    return { reading, vertical: truth.misalignment.vertical_offset_pct.value };
  };
  const before = await read('meridian-02-vertical');
  const after = await read('meridian-01-aligned');
  const made = [turn(1 / 2)];
  const house = houseWith({ moves: 'apart' });
  const { effect_per_turn, effect_u_pct } = effectIn(
    take({ house, before: before.reading, after: after.reading, made }),
  );
  const perTurn = (after.vertical - before.vertical) / (1 / 2);
  const off = Math.abs(effect_per_turn.vertical_pct! - perTurn);
  expect(off).toBeLessThan((2 * effect_u_pct! * Math.abs(perTurn)) / 100);
});
