import { beforeAll, describe, expect, it } from 'vitest';
import { type ExaminedShot, examineShot } from '../../../src/application/shot/examine-shot.ts';
import { measureTone } from '../../../src/application/shot/measure-tone.ts';
import type { Pixels } from '../../../src/imaging/pixels.ts';
import { linearFromSrgb, srgbFromLinear } from '../../../src/imaging/srgb.ts';
import { renderShot } from '../../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE } from '../../../src/scene/scene.ts';
import { layoutChart } from '../../../src/target/chart.ts';
import { shotOf } from '../light/photograph-hall.ts';

const chart = layoutChart(MERIDIAN_SCENE.aspect);

/** A screen without a hot spot and a lens without vignetting: a full white sends the same everywhere. */
let pixels: Pixels;
beforeAll(() => {
  const scene = { ...MERIDIAN_SCENE, surface: { mattPart: 1, halfGain_deg: 14 } };
  pixels = renderShot(scene, shotOf(scene, 'left', { vignetting: 0 }), 1).pixels;
});

/** What a camera makes of it that bends its curve by an exponent. */
function bent(exponent: number): Pixels {
  const table = Uint8Array.from({ length: 256 }, (_, code) =>
    Math.round(255 * srgbFromLinear(linearFromSrgb(code / 255) ** exponent)),
  );
  return { ...pixels, data: (pixels.data as Uint8Array).map((code) => table[code]) };
}

function toneOf(of: Pixels) {
  const shot = examineShot(undefined, of, chart) as ExaminedShot;
  return measureTone(of, chart, 'left', shot.fit.views.left!, () => 1)!;
}

describe('measureTone', () => {
  it.each([0.85, 1, 1.2])('finds the exponent %d from the grey steps', (exponent) => {
    const { value, u } = toneOf(bent(exponent));
    expect(Math.abs(value - exponent)).toBeLessThan(0.02);
    expect(Math.abs(value - exponent)).toBeLessThan(2 * u);
    expect(u).toBeLessThan(0.03);
  });

  it('takes out the shading that it is told of', () => {
    const shot = examineShot(undefined, pixels, chart) as ExaminedShot;
    // Light said to fall from the left to the right end of the strip, where there is less of it in truth: the steps then
    // seem to fall more slowly.
    const tilted = measureTone(pixels, chart, 'left', shot.fit.views.left!, ({ x }) => Math.exp(-x))!;
    expect(tilted.value).toBeLessThan(0.95);
  });

  it('is undefined where the steps lie outside the photograph', () => {
    const shot = examineShot(undefined, pixels, chart) as ExaminedShot;
    const view = shot.fit.views.left!;
    const [a, b, , d, e, , g, h, i] = view.photoFromChart;
    const away = { ...view, photoFromChart: [a, b, -9000, d, e, -9000, g, h, i] as const };
    expect(measureTone(pixels, chart, 'left', away, () => 1)).toBeUndefined();
  });
});
