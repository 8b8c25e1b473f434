import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ComparedShots } from '../../../src/application/pair/compare-shots.ts';
import type { ExaminedShot } from '../../../src/application/shot/examine-shot.ts';
import { examineQuickly } from '../../../src/application/shot/examine-shot.ts';
import { measurePhotographs } from '../../../src/application/measure-photographs.ts';
import { photographsOf } from '../name-photographs.ts';
import type { Point } from '../../../src/kernel/point.ts';
import { encodePng } from '../../../src/photo/write-photo.ts';
import type { MeasuredReading, UnwordedReading } from '../../../src/record/reading.ts';
import { translateReading } from '../../../src/wording/reading.ts';
import { CHART } from '../../vision/photograph-chart.ts';
import { type Exposure, photographChart } from '../photograph-chart.ts';
import { compareClosing, joinClosing, type ClosingMovement } from '../../../src/application/pair/compare-lenses.ts';

function look(exposure: Exposure): ExaminedShot {
  const shot = examineQuickly(photographChart(exposure), CHART);
  if (shot.outcome === 'refused') throw new Error(shot.code);
  return shot;
}

const FIRST: Exposure = { left: 0.5, right: 0, seed: 1 };
const closingMovedBy = (dx: number, dy: number): Exposure => ({ ...FIRST, moved_px: [dx, dy], seed: 2 });
const first = look(FIRST);

function movementOf(dx: number, dy: number): ClosingMovement {
  const movement = compareClosing(first, look(closingMovedBy(dx, dy)));
  if (movement.outcome === 'refused') throw new Error(movement.code);
  return movement;
}

describe('compareClosing', () => {
  it('a camera that kept still: no certain movement, known to some hundredths of a pixel', () => {
    const { movement_px, isCertain, chance } = movementOf(0, 0);
    expect(isCertain).toBe(false);
    expect(chance).toBeGreaterThan(1e-4);
    expect(movement_px.value).toBeLessThan(5 * movement_px.u);
    expect(movement_px.u).toBeLessThan(0.05);
  });

  it.each([
    [0.3, 0],
    [0, -0.3],
    [5, 3],
  ])('a movement by %f, %f px is found, certain and true', (dx, dy) => {
    const { movement_px, movement_ih, limit_px, isCertain } = movementOf(dx, dy);
    expect(isCertain).toBe(true);
    expect(Math.abs(movement_px.value - Math.hypot(dx, dy))).toBeLessThan(0.02 + 3 * movement_px.u);
    const perIh_px = movement_px.value / movement_ih;
    expect(perIh_px).toBeGreaterThan(580);
    expect(perIh_px).toBeLessThan(610);
    expect(limit_px).toBeCloseTo(5.6e-3 * perIh_px, 9);
  });

  it('refuses a closing photograph of the other eye’s picture', () => {
    const other = look({ left: 0, right: 0.5, seed: 3 });
    expect(compareClosing(first, other)).toMatchObject({ code: 'closing-other-eye', facts: { eye: 'left' } });
  });
});

describe('joinClosing', () => {
  const leaks = (movement_ih: number) => ({ outcome: 'compared', movement_ih, isSteadinessKnown: movement_ih > 0 });
  const join = (leak_ih: number, closing_px: number, isCertain: boolean) =>
    joinClosing(leaks(leak_ih) as ComparedShots, {
      outcome: 'compared',
      shift_px: { x: closing_px, y: 0 },
      size: { value: 0, u: 1e-5 },
      movement_px: { value: closing_px, u: 0.01 },
      movement_ih: closing_px / 1000,
      limit_px: 0.2,
      chance: isCertain ? 0 : 0.5,
      chanceOfWeave: isCertain ? 0 : 0.5,
      isCertain,
    });

  it('takes the closing photograph’s word where leaks say nothing', () => {
    expect(join(0, 0.02, false)).toMatchObject({
      movement_ih: 0,
      isSteadinessKnown: true,
      steadiness: { chance: 0.5 },
    });
    expect(join(0, 0.1, true)).toMatchObject({ movement_ih: 1e-4, isSteadinessKnown: true });
  });

  it('keeps the larger of two certain movements', () => {
    expect(join(1.5e-4, 0.1, true)).toMatchObject({ movement_ih: 1.5e-4 });
    expect(join(1.5e-4, 0, false)).toMatchObject({ movement_ih: 1.5e-4 });
    expect(join(0.5e-4, 0.1, true)).toMatchObject({ movement_ih: 1e-4 });
  });

  it('refuses a certain movement beyond the limit', () => {
    expect(join(0, 0.3, true)).toMatchObject({ code: 'camera-moved', facts: { moved_px: 0.3, limit_px: 0.2 } });
  });
});

describe('a measurement with a closing photograph', () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'closing-'));
  });
  afterAll(() => rm(folder, { recursive: true }));

  const store = async (name: string, exposure: Exposure) => {
    const path = join(folder, name);
    await writeFile(path, await encodePng(photographChart(exposure)));
    return path;
  };
  /** Without leaks, so that nothing else tells whether the camera moved. */
  async function measure(
    closing?: Exposure,
    more: { wander_px?: Point; closingWander_px?: Point } = {},
  ): Promise<UnwordedReading> {
    const leftPath = await store('left.png', FIRST);
    const rightPath = await store('right.png', { left: 0, right: 0.5, seed: 7 });
    const closingPath = closing && (await store('closing.png', closing));
    return measurePhotographs({
      photographs: photographsOf(leftPath, rightPath, closingPath),
      softwareVersion: '0',
      ...more,
    });
  }
  const readings = new Map<string, Promise<UnwordedReading>>();
  /** The same photographs give the same reading: they are measured once. */
  async function measured(...request: Parameters<typeof measure>): Promise<MeasuredReading> {
    const key = JSON.stringify(request);
    const known = readings.get(key) ?? measure(...request);
    readings.set(key, known);
    const reading = translateReading(await known);
    if (reading.outcome === 'refused') throw new Error(reading.refusal.message);
    return reading;
  }
  const warningsOf = ({ warnings }: MeasuredReading) => warnings.map(({ code }) => code);

  it('knows that the camera kept still, and changes no value', async () => {
    const without = await measured();
    expect(without.steadiness).toBeNull();
    const reading = await measured(closingMovedBy(0, 0));
    expect(reading.steadiness!.movement_px.value).toBeLessThan(0.12);
    expect(reading.misalignment).toEqual(without.misalignment);
    expect(reading.shots.map(({ role }) => role)).toEqual(['left-lens', 'right-lens', 'closing']);
  });

  it('widens what it says where film or camera certainly moved farther than was to be expected', async () => {
    const still = await measured(closingMovedBy(0, 0));
    const reading = await measured(closingMovedBy(0, 2));
    expect(warningsOf(reading)).toContain('camera-crept');
    const crept_pct = (100 * reading.steadiness!.movement_px.value) / 600;
    const u = ({ misalignment }: MeasuredReading) => misalignment.vertical_offset_pct.u;
    expect(u(reading)).toBeGreaterThan(crept_pct);
    expect(u(still)).toBeLessThan(crept_pct);
  });

  it.each([
    ['moved farther', closingMovedBy(0, 5), 'camera-moved'],
    ['the other lens', { left: 0, right: 0.5, seed: 9 }, 'closing-other-eye'],
    ['the first one again', FIRST, 'same-photo-twice'],
    ['a black one', { left: 0, right: 0, seed: 10 }, 'underexposed'],
  ] as const)('refuses: %s', async (_name, closing, code) => {
    const reading = translateReading(await measure(closing));
    expect(reading).toMatchObject({
      outcome: 'refused',
      refusal: { code, shot: 'closing', message: expect.stringMatching(/[Tt]he closing photograph/) },
    });
  });

  it('does not refuse what the weave of the frames explains', async () => {
    const reading = await measured(closingMovedBy(0, 4), { closingWander_px: { x: 2, y: 2 } });
    expect(warningsOf(reading)).toContain('camera-crept');
    expect(reading.misalignment.vertical_offset_pct.u).toBeGreaterThan((100 * 3.9) / 600);
    const narrow = await measure(closingMovedBy(0, 4), { closingWander_px: { x: 0.02, y: 0.02 } });
    expect(narrow).toMatchObject({ refusal: { code: 'camera-moved' } });
  });

  it('what the frames of a picture wandered takes the place of what film usually does', async () => {
    const reading = await measured(closingMovedBy(0, 0), { wander_px: { x: 0.03, y: 0.04 } });
    const lineOf = (figure: string, source: string) =>
      reading.budget!.find((each) => each.figure === figure)!.lines.find((line) => line.source === source)!;
    // A picture height has about 590 px here.
    expect(lineOf('vertical_offset_pct', 'film-jump')).toMatchObject({ basis: 'frames', type: 'B' });
    expect(4 / lineOf('vertical_offset_pct', 'film-jump').u).toBeGreaterThan(580);
    expect(4 / lineOf('vertical_offset_pct', 'film-jump').u).toBeLessThan(610);
    expect(3 / lineOf('horizontal_offset_pct', 'film-weave').u).toBeGreaterThan(580);
  });
});
