import { describe, expect, it } from 'vitest';
import {
  footlambertsFromLuminance,
  luminanceFromFootlamberts,
  luminanceFromIlluminance,
  transmittanceOfDensity,
} from '../../src/kernel/photometry.ts';

describe('footlamberts', () => {
  // Definition: 1 fL = 1/pi cd/ft2. VERIFIED
  it('one is 3.4262591 cd/m2', () => expect(luminanceFromFootlamberts(1)).toBeCloseTo(3.4262591, 6));
  // ANSI/SMPTE 196M as quoted by SMPTE RP 51-1995: 16 fL. VERIFIED; cd/m2 COMPUTED
  it('16 are 54.82 cd/m2', () => expect(luminanceFromFootlamberts(16)).toBeCloseTo(54.82, 2));
  // ISO 26431-1: 48 cd/m2, 14 fL. VERIFIED-2; COMPUTED
  it('48 cd/m2 are 14.01', () => expect(footlambertsFromLuminance(48)).toBeCloseTo(14.01, 2));
  // Trade reports of 2009. VERIFIED; cd/m2 COMPUTED
  it('4.5 are 15.42 cd/m2', () => expect(luminanceFromFootlamberts(4.5)).toBeCloseTo(15.42, 2));
});

// 1 lm per square foot, 1 ft = 0.3048 m exactly. COMPUTED
const LUX_PER_FOOTCANDLE = 10.763910416709722;

describe('luminanceFromIlluminance', () => {
  it('one footcandle on a surface of gain 1 is one footlambert, on gain 2.5 it is 2.5', () => {
    expect(footlambertsFromLuminance(luminanceFromIlluminance(LUX_PER_FOOTCANDLE, 1))).toBeCloseTo(1, 12);
    expect(footlambertsFromLuminance(luminanceFromIlluminance(LUX_PER_FOOTCANDLE, 2.5))).toBeCloseTo(2.5, 12);
  });
});

describe('transmittanceOfDensity', () => {
  // A leader of density 0.05 makes about 14 fL of 16 fL. VERIFIED-2; COMPUTED
  it('0.05 makes 14.26 fL of 16 fL', () => expect(16 * transmittanceOfDensity(0.05)).toBeCloseTo(14.26, 2));
});
