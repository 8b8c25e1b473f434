/** From sharp to soft and from burnt out to black: measured true, or refused for that reason; never wrong. */
import { beforeAll, describe, expect, it } from 'vitest';
import {
  expectMeasured,
  expectRefusal,
  expectTrue,
  expectWithinUncertainty,
  measure,
  warningsOf,
} from './run-measure-command.ts';
import {
  exposeThrough,
  LEAK,
  render,
  type Setting,
  storeInFolder,
  storePicture,
  truthOf,
} from './simulated-photographs.ts';

storeInFolder();

let setting: Setting;
beforeAll(() => {
  setting = render();
});

async function pairOf(name: string, given: Parameters<typeof exposeThrough>[2]) {
  const left = await storePicture(`${name} l.jpg`, exposeThrough(setting, 'left', given));
  const right = await storePicture(`${name} r.jpg`, exposeThrough(setting, 'right', given));
  return [left, right] as const;
}

describe('blur', () => {
  it.each([1, 1.7, 2.4])('of %f px is measured', async (blur_px) => {
    const reading = await expectMeasured(...(await pairOf(`blur ${blur_px}`, { blur_px })));
    expectTrue(reading, truthOf(setting));
    expect(Math.abs(reading.evidence.blur_px['left-lens']! - blur_px)).toBeLessThan(0.1);
  });

  it.each([6, 10, 20])('of %f px is refused', async (blur_px) => {
    const { remedy } = await expectRefusal(...(await pairOf(`blur ${blur_px}`, { blur_px })), 'blurred', 'left-lens');
    expect(remedy).toMatch(/focus/i);
  });

  it('of the second photograph alone is blamed on it', async () => {
    const [left] = await pairOf('sharp', {});
    const [, right] = await pairOf('soft', { blur_px: 12 });
    await expectRefusal(left, right, 'blurred', 'right-lens');
  });
});

describe('exposure', () => {
  it('to twice full scale is refused', async () => {
    const { message } = await expectRefusal(...(await pairOf('peak 2', { peak: 2 })), 'overexposed', 'left-lens');
    expect(message).toMatch(/burnt out/);
  });

  it.each([1.2, 1])('to %f of full scale is measured, with a warning of the marks that burnt out', async (peak) => {
    const reading = await expectMeasured(...(await pairOf(`full ${peak}`, { peak })));
    expectTrue(reading, truthOf(setting));
    expect(warningsOf(reading)).toContain('some-marks-clipped');
  });

  it.each([0.5, 0.1, 0.03, 0.01])('to %f is measured', async (peak) => {
    const reading = await expectMeasured(...(await pairOf(`peak ${peak}`, { peak })));
    expectTrue(reading, truthOf(setting));
    expect(reading.eyes.assignment).toBe('correct');
    for (const crosstalk of [reading.eyes.crosstalk_left_pct, reading.eyes.crosstalk_right_pct]) {
      expect(Math.abs(crosstalk!.value - 100 * LEAK)).toBeLessThan(3 * crosstalk!.u);
    }
  });

  it('to 0.003, ten codes of 256, is measured within its uncertainty or refused', async () => {
    const reading = await measure(...(await pairOf('faint', { peak: 0.003 })));
    if (reading.outcome === 'measured') expectWithinUncertainty(reading, truthOf(setting));
    else expect(reading.refusal.code).toBe('underexposed');
  });

  it('without light', async () => {
    const { remedy } = await expectRefusal(...(await pairOf('dark', { peak: 0 })), 'underexposed', 'left-lens');
    expect(remedy).toMatch(/longer exposure/);
  });
});
