/**
 * Evenness of light from photographs of the target: one, or one through each lens of the glasses.
 *
 *   photographs -> marks -> light of each mark -> camera's vignetting taken out -> surface -> evenness, balance, luminance
 *
 * The camera's vignetting is known from a photograph of an evenly lit surface (the same lens, zoom, stop and focus), or
 * from a further photograph of the same picture with the camera panned; otherwise it is assumed, and the uncertainty
 * says so. Words are made elsewhere.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Refusal } from '../kernel/refusal.ts';
import { type Balance, balanceEyes, type EyeLight } from '../light/balance-eyes.ts';
import {
  describeEvenness,
  type Evenness,
  type MeterReading,
  type PlaceLuminance,
  type PlaceName,
  spreadLuminance,
} from '../light/evenness.ts';
import {
  basisAt,
  type CommonCause,
  evaluate,
  fitLightSurface,
  type LightSample,
  type LightSurface,
} from '../light/light-surface.ts';
import { radiusOf, type Vignetting, type VignettingMethod } from '../light/vignetting.ts';
import { type Chart, DEFAULT_ASPECT, layOutChart } from '../target/chart.ts';
import type { ExaminedShot } from './examine-shot.ts';
import { compareExposures, judgeTones } from './judge-camera.ts';
import { strongerEye } from './judge-shot.ts';
import { examinePicture, type LightRefusal, learnVignetting, type Picture } from './learn-vignetting.ts';
import { measureTone } from './measure-tone.ts';
import type { PhotoSource } from './read-pair.ts';
import { type MarkLight, sampleMarks } from './sample-light.ts';

export interface EvennessRequest {
  /** One photograph of the target, or one through each lens; each eye's picture is taken where it is the stronger. */
  readonly pictures: readonly PhotoSource[];
  /** An evenly lit surface, by the same camera. */
  readonly flat?: PhotoSource;
  /** The first picture once more with the camera panned. */
  readonly turned?: PhotoSource;
  /** One reading of a luminance meter on the bright parts of a mark. */
  readonly meter?: MeterReading;
  /** Picture width over height of the target. */
  readonly aspect?: number;
}

export type EvennessCode = 'exposure-differs' | 'exposure-unknown' | 'tone-curve-bent' | 'tone-curve-unknown';

export interface EyeEvenness {
  readonly evenness: Evenness;
  readonly luminance: Readonly<Record<PlaceName, PlaceLuminance>> | null;
  /** Exponent of the photograph's tone curve from the grey steps; 1 is straight. Null where they could not be sampled. */
  readonly tone: Measured | null;
  /** The marks that the surface was laid through, and whether each counted. */
  readonly samples: readonly (MarkLight & { readonly used: boolean })[];
}

export interface MeasuredEvenness {
  readonly outcome: 'measured';
  readonly eyes: Readonly<Partial<Record<Eye, EyeEvenness>>>;
  /** Null unless both eyes' pictures were measured at the same exposure. */
  readonly balance: Balance | null;
  readonly vignetting: VignettingMethod;
  readonly notes: readonly EvennessCode[];
}

/** Uncertainty of the tone curve's exponent where no steps tell, and what is left of it where they do. */
const UNKNOWN_TONE_U = 0.1;
/** How well a camera repeats an exposure, shutter and lamp together. An assumption of ours. */
const EXPOSURE_U = 0.01;
export async function measureEvenness(request: EvennessRequest): Promise<MeasuredEvenness | LightRefusal> {
  const { pictures: sources, aspect = DEFAULT_ASPECT, meter } = request;
  const chart = layOutChart(aspect);
  const pictures: Picture[] = [];
  for (const source of sources) {
    const picture = await examinePicture(source, chart, 'picture');
    if (picture.outcome === 'refused') return picture;
    pictures.push(picture);
  }
  const [first] = pictures;
  if (!first) throw new RangeError('evenness of no photograph');
  const learned = await learnVignetting(request, first, chart);
  if (learned.outcome === 'refused') return learned;
  const known = learned.vignetting;

  const eyes: Partial<Record<Eye, EyeEvenness>> = {};
  const lights: Partial<Record<Eye, EyeLight>> = {};
  for (const { source, shot } of pictures) {
    for (const eye of EYES) {
      if (!isShownBy(pictures, shot, eye)) continue;
      const measured = measureEye(shot, eye, chart, known);
      if ('refusal' in measured) return { outcome: 'refused', ...measured, role: 'picture', file: source.name };
      lights[eye] = measured.light;
      eyes[eye] = {
        evenness: describeEvenness(measured.light.luminance, known.method),
        luminance: meter ? spreadLuminance(measured.light.luminance, meter) : null,
        tone: measured.tone,
        samples: measured.samples.map((sample, i) => ({ ...sample, used: measured.light.luminance.used[i] })),
      };
    }
  }
  const exposure = compareExposures(pictures.map(({ photo }) => photo.camera));
  const bend = judgeTones(Object.values(eyes).map(({ tone }) => tone));
  const { left, right } = lights;
  return {
    outcome: 'measured',
    eyes,
    balance:
      left && right && exposure !== 'exposure-differs'
        ? balanceEyes({ left, right }, pictures.length > 1 ? EXPOSURE_U : 0)
        : null,
    vignetting: known.method,
    notes: [exposure && left && right ? exposure : undefined, bend].filter((note) => note !== undefined),
  };
}

/** Each eye's picture is measured in the photograph that shows it most strongly, and not where it is a mere leak. */
function isShownBy(pictures: readonly Picture[], shot: ExaminedShot, eye: Eye): boolean {
  const strengthIn = ({ fit, marks }: ExaminedShot) =>
    fit.views[eye] ? marks[eye].reduce((sum, { contrast }) => sum + contrast, 0) / Math.max(1, marks[eye].length) : 0;
  const own = strengthIn(shot);
  const isLeak = strongerEye(shot) !== eye && own < LEAST_OWN_PART * strongest(shot);
  return own > 0 && !isLeak && pictures.every((other) => other.shot === shot || strengthIn(other.shot) < own);
}

/** A picture this much weaker than the other one in the same photograph is what leaks. */
const LEAST_OWN_PART = 0.5;

function strongest({ marks }: ExaminedShot): number {
  return Math.max(
    ...EYES.map((eye) => marks[eye].reduce((sum, { contrast }) => sum + contrast, 0) / Math.max(1, marks[eye].length)),
  );
}

interface EyeMeasurement {
  readonly light: EyeLight;
  readonly tone: Measured | null;
  readonly samples: readonly MarkLight[];
}

function measureEye(
  shot: ExaminedShot,
  eye: Eye,
  chart: Chart,
  vignetting: Vignetting,
): EyeMeasurement | { readonly refusal: Refusal<string> } {
  const samples = sampleMarks(shot, eye);
  const rough = fitLightSurface(
    samples.map((sample) => clearOf(vignetting, sample, sample)),
    chart.aspect,
  );
  if (rough.outcome === 'refused') return { refusal: rough };
  const view = shot.fit.views[eye]!;
  const tone = measureTone(shot.pixels, chart, eye, view, (at) => seenLight(rough, samples, vignetting, at)) ?? null;
  const toneU = tone ? Math.hypot(tone.value - 1, tone.u) : UNKNOWN_TONE_U;

  const fit = (of: readonly MarkLight[], lightOf: (sample: MarkLight) => Measured) => {
    const cleared = of.map((sample) =>
      clearOf(vignetting, sample, { light: lightOf(sample).value, u: lightOf(sample).u }),
    );
    return fitLightSurface(cleared, chart.aspect, causesOf(of, cleared, vignetting, toneU));
  };
  const luminance = fit(samples, ({ light, u }) => ({ value: light, u }));
  if (luminance.outcome === 'refused') return { refusal: luminance };
  const coloured = samples.filter(({ channels }) => channels !== undefined);
  const channels = [0, 1, 2].map((k) => fit(coloured, (sample) => sample.channels![k]));
  const [red, green, blue] = channels;
  const hasColour = red.outcome === 'fitted' && green.outcome === 'fitted' && blue.outcome === 'fitted';
  return { light: hasColour ? { luminance, channels: { red, green, blue } } : { luminance }, tone, samples };
}

/** A sample freed of what the camera's lens took. */
function clearOf(
  vignetting: Vignetting,
  { at, place }: MarkLight,
  { light, u }: { readonly light: number; readonly u: number },
): LightSample {
  const passage = Math.exp(vignetting.logPassage(radiusOf(place)));
  return { at, light: light / passage, u: u / passage };
}

/** What is common to all samples: each unknown of the vignetting, and the tone curve, which acts on light as seen. */
function causesOf(
  samples: readonly MarkLight[],
  cleared: readonly LightSample[],
  vignetting: Vignetting,
  toneU: number,
): CommonCause[] {
  const spreads = samples.map(({ place }) => vignetting.spread(radiusOf(place)));
  const ofVignetting = (spreads[0] ?? []).map((_, k) => spreads.map((spread) => -spread[k]));
  const ofTone = cleared.map(({ light }) => toneU * Math.log(Math.max(light, Number.MIN_VALUE)));
  return [...ofVignetting, ofTone];
}

/** The surface as the camera sees it: with the vignetting at the nearest mark's place in the frame. */
function seenLight(
  surface: LightSurface,
  samples: readonly MarkLight[],
  vignetting: Vignetting,
  at: { readonly x: number; readonly y: number },
): number {
  const distance = (sample: MarkLight) => Math.hypot(sample.at.x - at.x, sample.at.y - at.y);
  const nearest = samples.reduce((best, sample) => (distance(sample) < distance(best) ? sample : best));
  const log = evaluate(surface, basisAt(at, surface.aspect, surface.order)).value;
  return Math.exp(log + vignetting.logPassage(radiusOf(nearest.place)));
}
