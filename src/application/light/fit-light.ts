/**
 * Light samples of one photograph to surfaces over the picture: freed of what the camera's lens took, with what is common to
 * all samples (vignetting, tone curve, stray light) carried into the uncertainty.
 */
import type { Measured } from '../../kernel/measured.ts';
import type { Refusal } from '../../kernel/refusal.ts';
import type { EyeLight } from '../../light/balance-eyes.ts';
import { type CommonCause, fitLightSurface, type LightSample } from '../../light/light-surface.ts';
import { radiusOf, type Vignetting } from '../../light/vignetting.ts';
import type { MarkLight } from '../shot/sample-light.ts';

/** What is known of the photograph beside its samples. */
export interface PhotographedLight {
  readonly aspect: number;
  readonly vignetting: Vignetting;
  /** Of the exponent of the tone curve about 1. */
  readonly toneU: number;
  /** Light that does not come from the picture, as far as it could be there, in the samples' unit. */
  readonly strayLight?: number;
}

export function fitEyeLight(samples: readonly MarkLight[], known: PhotographedLight): EyeLight | Refusal<string> {
  const fit = (of: readonly MarkLight[], lightOf: (sample: MarkLight) => Measured) => {
    const seen = of.map(lightOf);
    const cleared = of.map((sample, i) => clearOf(known.vignetting, sample, { light: seen[i].value, u: seen[i].u }));
    return fitLightSurface(cleared, known.aspect, causesOf(of, seen, cleared, known));
  };
  const luminance = fit(samples, ({ light, u }) => ({ value: light, u }));
  if (luminance.outcome === 'refused') return luminance;
  const coloured = samples.filter(({ channels }) => channels !== undefined);
  const [red, green, blue] = [0, 1, 2].map((k) => fit(coloured, (sample) => sample.channels![k]));
  const hasColour = red.outcome === 'fitted' && green.outcome === 'fitted' && blue.outcome === 'fitted';
  return hasColour ? { luminance, channels: { red, green, blue } } : { luminance };
}

/** A sample freed of what the camera's lens took. */
export function clearOf(
  vignetting: Vignetting,
  { at, place }: MarkLight,
  { light, u }: { readonly light: number; readonly u: number },
): LightSample {
  const passage = Math.exp(vignetting.logTransmittance(radiusOf(place)));
  return { at, light: light / passage, u: u / passage };
}

/** Each unknown of the vignetting; the tone curve, which acts on light as seen; stray light, which adds to it. */
function causesOf(
  samples: readonly MarkLight[],
  seen: readonly Measured[],
  cleared: readonly LightSample[],
  { vignetting, toneU, strayLight = 0 }: PhotographedLight,
): CommonCause[] {
  const spreads = samples.map(({ place }) => vignetting.spread(radiusOf(place)));
  const ofVignetting = (spreads[0] ?? []).map((_, k) => spreads.map((spread) => -spread[k]));
  const ofTone = cleared.map(({ light }) => toneU * Math.log(Math.max(light, Number.MIN_VALUE)));
  const ofStrays = seen.map(({ value }) => -strayLight / Math.max(value, Number.MIN_VALUE));
  return [...ofVignetting, ofTone, ...(strayLight > 0 ? [ofStrays] : [])];
}
