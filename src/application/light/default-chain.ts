/** The light chain of a usual house, to be replaced step by step by what the house knows better. */
import { DEFAULT_ASPECT } from '../../kernel/aspect.ts';
import type { Measured } from '../../kernel/measured.ts';
import { luminanceFromFootlamberts } from '../../kernel/photometry.ts';
import { defaultSteps } from '../../light/light-budget.ts';
import type { House } from '../../record/house.ts';
import { LIGHT_CHAIN_SCHEMA, type LightChain } from '../../record/light-chain.ts';

export interface ChainOptions {
  /** As it was read, in its unit. */
  readonly start: LightChain['start'];
  readonly house?: House;
  /** Plate through which the reading was taken. */
  readonly readAperture_mm?: { readonly width: number; readonly height: number };
  /** Width of the light on the screen then; that of the picture where it is left out. */
  readonly readWidth_m?: number;
  /** The reading was taken from the metallic screen itself. */
  readonly readFromMetallicScreen: boolean;
}

/** The plate for 1.85 : 1. ISO 2907:2002, as reported: 20.95 mm wide, 11.32 mm high at least. */
export const DEFAULT_APERTURE_MM = { width: 20.95, height: 11.32 } as const;
/** How well a reading of a hand-held meter is taken where nobody says. An assumption of ours. */
const ASSUMED_METER_PART = 0.04;

export function defaultChain(options: ChainOptions): LightChain {
  const { start, house, readAperture_mm = DEFAULT_APERTURE_MM, readFromMetallicScreen } = options;
  const aspect = house?.screen.picture_aspect ?? DEFAULT_ASPECT;
  const filmWidth_mm = house?.film.picture_width_mm ?? DEFAULT_APERTURE_MM.width;
  // Without a house only the ratio of the widths matters.
  const pictureWidth_m = house?.screen.picture_width_m ?? options.readWidth_m ?? 1;
  const readWidth_m = options.readWidth_m ?? pictureWidth_m;
  const steps = defaultSteps({
    readAperture_mm,
    pictureAperture_mm: { width: filmWidth_mm, height: house?.film.picture_height_mm ?? filmWidth_mm / aspect },
    readArea_m2: (readWidth_m ** 2 * readAperture_mm.height) / readAperture_mm.width,
    pictureArea_m2: pictureWidth_m ** 2 / aspect,
    readFromMetallicScreen,
  });
  return {
    schema: LIGHT_CHAIN_SCHEMA,
    start,
    steps: steps.map(({ code, factor, source, basis, improvement }) => ({
      code,
      factor: { ...factor },
      source,
      basis,
      ...(improvement === undefined ? {} : { improvement: { ...improvement } }),
    })),
  };
}

/** A luminance in the unit of the meter -> cd/m2. */
export function inCandela({ value, u }: Measured, unit: 'cd/m2' | 'fL'): Measured {
  return unit === 'fL' ? { value: luminanceFromFootlamberts(value), u: luminanceFromFootlamberts(u) } : { value, u };
}

/** A reading with the uncertainty that was given, or a usual one. */
export function readingOf(value: number, u?: number): Measured {
  return { value, u: u ?? ASSUMED_METER_PART * value };
}
