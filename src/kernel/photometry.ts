/**
 * Photometric units of the trade and of the SI.
 *
 *   1 fL = 1/pi cd/ft^2,   1 ft = 0.3048 m exactly
 *
 * A surface of gain g under the illuminance E sends back the luminance L = g E / pi.
 *
 * Source of the foot: international yard and pound agreement of 1959. Definition of the footlambert: 1/pi candela per
 * square foot.
 */
/** 3.4262591 cd/m2. */
export const CD_M2_PER_FOOTLAMBERT = 1 / (Math.PI * 0.3048 ** 2);

/**
 * fL of cd/m2.
 *
 * @example
 * footlambertsFromLuminance(48); // 14.01
 */
export function footlambertsFromLuminance(luminance_cd_m2: number): number {
  return luminance_cd_m2 / CD_M2_PER_FOOTLAMBERT;
}

/**
 * cd/m2 of fL.
 *
 * @example
 * luminanceFromFootlamberts(16); // 54.82
 */
export function luminanceFromFootlamberts(luminance_fL: number): number {
  return luminance_fL * CD_M2_PER_FOOTLAMBERT;
}

/**
 * Luminance in cd/m2 of a surface of gain `gain` (1 = matt white without loss) under `illuminance_lx`.
 *
 * @example
 * luminanceFromIlluminance(100, 1.8); // 57.3
 */
export function luminanceFromIlluminance(illuminance_lx: number, gain: number): number {
  return (gain * illuminance_lx) / Math.PI;
}

/**
 * What passes a film base or leader of an optical density, as a fraction.
 *
 * @example
 * transmittanceOfDensity(0.05); // 0.891
 */
export function transmittanceOfDensity(density: number): number {
  return 10 ** -density;
}
