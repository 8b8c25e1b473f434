/** Trial turns on readings made by hand, and on photographs whose truth is known. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { learnTrial, type MadeTurn, type TrialOfTurn } from '../../../src/application/turns/learn-trial.ts';
import { measurePhotographs } from '../../../src/application/measure-photographs.ts';
import { photographsOf } from '../name-photographs.ts';
import { compose, type Homography } from '../../../src/kernel/homography.ts';
import { type House, readHouse } from '../../../src/record/house.ts';
import type { MeasuredReading } from '../../../src/record/reading.ts';
import type { TruthRecord } from '../../../src/scene/truth-record.ts';
import { meridian } from '../../limits/reading-of.ts';
import { sampleReading, sampleRefusal } from '../../report/sample-reading.ts';
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

const quarter = (direction: MadeTurn['direction'] = 'clockwise', adjustment = 'knob'): MadeTurn => ({
  adjustment,
  direction,
  turns: 1 / 4,
});

function learn(some: Partial<TrialOfTurn> = {}) {
  return learnTrial({
    before: sampleReading,
    after: afterMove(sampleReading, 'right', -0.2),
    house: houseWith(),
    made: [quarter()],
    ...some,
  });
}

const effectIn = (result: ReturnType<typeof learn>) => {
  if (result.outcome === 'refused') throw new Error(result.code);
  const adjustment = result.house.attachment!.adjustments.find(({ id }) => id === 'knob')!;
  if (adjustment.kind !== 'stated') throw new Error(adjustment.kind);
  return adjustment;
};

describe('the house afterwards', () => {
  it('states the effect, and keeps everything else of the adjustment and of the house', () => {
    const learned = learn();
    const { effect_per_turn, effect_u_pct, ...kept } = effectIn(learned);
    expect(effect_per_turn).toEqual({ vertical_pct: -0.8 });
    expect(effect_u_pct).toBeGreaterThan(5);
    expect(effect_u_pct).toBeLessThan(40);
    const { affects: _, ...travel } = knob;
    expect(kept).toEqual({ ...travel, kind: 'stated' });
    if (learned.outcome === 'learned') {
      expect(readHouse(learned.house)).toMatchObject({ outcome: 'read' });
      expect(learned.house.attachment!.adjustments.slice(0, -1)).toEqual(meridian().attachment!.adjustments);
    }
  });

  it.each([
    ['right', 'clockwise', 'right', 0.2, 0.8],
    ['right', 'counter-clockwise', 'right', 0.2, -0.8],
    // The left picture went down by 0.2 %, so that right minus left rose.
    ['left', 'clockwise', 'left', -0.2, -0.8],
    ['left', 'counter-clockwise', 'left', -0.2, 0.8],
    ['apart', 'clockwise', 'right', 0.2, 0.8],
  ] as const)(
    '%s picture, %s: the %s one goes by %f %%, so %f %% per turn',
    (moves, direction, picture, pct, effect) => {
      const after = afterMove(sampleReading, picture, pct);
      const { effect_per_turn } = effectIn(learn({ after, house: houseWith({ moves }), made: [quarter(direction)] }));
      expect(effect_per_turn.vertical_pct).toBeCloseTo(effect, 9);
    },
  );

  it('can be learned anew from a second trial', () => {
    const first = learn();
    if (first.outcome === 'refused') throw new Error(first.code);
    const second = learn({ house: first.house, after: afterMove(sampleReading, 'right', -0.22) });
    expect(effectIn(second).effect_per_turn).toEqual({ vertical_pct: -0.88 });
  });

  it('adds up turns of the same adjustment', () => {
    const { effect_per_turn } = effectIn(learn({ made: [quarter(), quarter()] }));
    expect(effect_per_turn.vertical_pct).toBeCloseTo(-0.4, 9);
  });
});

describe('which picture moved', () => {
  it('is told where the camera stood still', () => {
    const after = afterMove(sampleReading, 'left', 0.2);
    expect(learn({ after })).toMatchObject({ code: 'other-picture-moved', facts: { moves: 'right' } });
  });

  it('is not told where the camera moved', () => {
    expect(learn({ after: afterMove(sampleReading, 'left', 0.2, 40) }).outcome).toBe('learned');
  });
});

it.each([
  ['round-not-measured', { before: sampleRefusal }],
  ['round-not-measured', { after: sampleRefusal }],
  ['same-photographs', { after: sampleReading }],
  ['nothing-turned', { made: [] }],
  ['nothing-turned', { made: [quarter(), quarter('counter-clockwise')] }],
  ['several-adjustments-turned', { made: [quarter(), quarter('clockwise', 'upper-screw')] }],
  ['no-such-adjustment', { house: null }],
  ['no-such-adjustment', { made: [quarter('clockwise', 'handle')] }],
  ['effect-from-geometry', { made: [quarter('clockwise', 'whole-attachment')] }],
  ['no-effect-seen', { after: afterMove(sampleReading, 'right', 0) }],
] as const)('is refused: %s', (code, some) => {
  expect(learn(some as Partial<TrialOfTurn>)).toMatchObject({ outcome: 'refused', code });
});

it('is refused where the eyes are swapped', () => {
  const after = afterMove(sampleReading, 'right', -0.2);
  const exchanged = { ...after, eyes: { ...sampleReading.eyes, assignment: 'swapped' as const } };
  expect(learn({ after: exchanged })).toMatchObject({ code: 'eyes-exchanged' });
});

it('learns from photographs what the simulated screw did', async () => {
  const read = async (set: string) => {
    const path = (lens: string) => join(TEST_IMAGES, set, `${lens}-lens.jpg`);
    const reading = await measurePhotographs({
      photographs: photographsOf(path('left'), path('right')),
      softwareVersion: '0.0.0',
    });
    const truth: TruthRecord = JSON.parse(readFileSync(join(TEST_IMAGES, set, 'truth.json'), 'utf8'));
    return { reading, vertical: truth.misalignment.vertical_offset_pct.value };
  };
  const before = await read('meridian-02-vertical');
  const after = await read('meridian-01-aligned');
  const house = houseWith({ moves: 'apart' });
  const learned = effectIn(
    learnTrial({ before: before.reading, after: after.reading, house, made: [{ ...quarter(), turns: 1 / 2 }] }),
  );
  const perTurn = (after.vertical - before.vertical) / (1 / 2);
  expect(Math.abs(learned.effect_per_turn.vertical_pct! - perTurn)).toBeLessThan(0.02 * Math.abs(perTurn));
});
