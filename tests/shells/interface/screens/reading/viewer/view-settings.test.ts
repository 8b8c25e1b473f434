import { expect, it } from 'vitest';
import {
  chooseSettings,
  factorAt,
} from '../../../../../../src/shells/interface/screens/reading/viewer/view-settings.ts';
import { sampleReading } from '../../../../../report/sample-reading.ts';

it('begins with arrows and residuals as long as there is room for', () => {
  const settings = chooseSettings(sampleReading, 14);
  const longest = Math.max(...sampleReading.evidence.field.map(({ dx_pct, dy_pct }) => Math.hypot(dx_pct, dy_pct)));
  const drawn_ih = (factorAt(settings.arrowFactor) * longest) / 100;
  expect(drawn_ih).toBeLessThanOrEqual(0.14);
  expect(drawn_ih).toBeGreaterThan(0.14 / 2.51);
  const largest = Math.max(
    ...sampleReading.evidence.marks.filter(({ used }) => used).map(({ residual_px: [x, y] }) => Math.hypot(x, y)),
  );
  const drawn_px = factorAt(settings.residualFactor) * largest;
  expect(drawn_px).toBeLessThanOrEqual(0.05 * 1400);
  expect(drawn_px).toBeGreaterThan((0.05 * 1400) / 2.51);
  expect(settings.mode).toBe('both');
});
