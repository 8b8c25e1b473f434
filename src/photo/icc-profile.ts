/**
 * An embedded ICC profile: its name, and whether it is sRGB by its numbers.
 *
 * Many cameras embed sRGB under names of their own. Converting such a file to sRGB would cost more time than decoding
 * it and could only add rounding, so the profile is judged by its colorants and its tone curves.
 *
 * Source: ICC.1:2022, sections 7.2 (header), 9.2 (tags), 10.6 curveType, 10.18 parametricCurveType.
 */
import { linearFromSrgb } from '../imaging/srgb.ts';

export interface IccProfile {
  readonly name: string;
  readonly isSrgb: boolean;
}

/** sRGB primaries adapted to D50, CIE XYZ, as in the published sRGB profiles. */
const SRGB_COLORANTS: Readonly<Record<string, readonly [number, number, number]>> = {
  rXYZ: [0.4361, 0.2225, 0.0139],
  gXYZ: [0.3851, 0.7169, 0.0971],
  bXYZ: [0.1431, 0.0606, 0.7141],
};
/** Published profiles differ from one another by less than this. */
const COLORANT_TOLERANCE = 0.002;
/** Two 8-bit steps of linear light would be 0.008; tables of real sRGB profiles stay within 0.0005. */
const CURVE_TOLERANCE = 0.001;

export function readIccProfile(profile: Buffer): IccProfile {
  const tags = readTags(profile);
  const name = readDescription(tags.get('desc')) ?? 'unnamed';
  const space = profile.toString('latin1', 16, 20);
  if (space === 'GRAY') return { name, isSrgb: isSrgbCurve(tags.get('kTRC')) };
  if (space !== 'RGB ' || tags.has('A2B0')) return { name, isSrgb: false };
  const colorants = Object.entries(SRGB_COLORANTS).every(([tag, expected]) => isNear(tags.get(tag), expected));
  return { name, isSrgb: colorants && ['rTRC', 'gTRC', 'bTRC'].every((tag) => isSrgbCurve(tags.get(tag))) };
}

function readTags(profile: Buffer): ReadonlyMap<string, Buffer> {
  const tags = new Map<string, Buffer>();
  if (profile.length < 132) return tags;
  const count = Math.min(profile.readUInt32BE(128), 100);
  for (let i = 0; i < count && 144 + i * 12 <= profile.length; i++) {
    const entry = 132 + i * 12;
    const at = profile.readUInt32BE(entry + 4);
    const end = at + profile.readUInt32BE(entry + 8);
    if (end <= profile.length) tags.set(profile.toString('latin1', entry, entry + 4), profile.subarray(at, end));
  }
  return tags;
}

/** Version 2 holds ASCII text, version 4 UTF-16 text in several languages, of which the first is taken. */
function readDescription(tag: Buffer | undefined): string | undefined {
  if (tag === undefined || tag.length < 12) return undefined;
  const type = tag.toString('latin1', 0, 4);
  let text = '';
  if (type === 'desc') text = tag.toString('latin1', 12, 12 + tag.readUInt32BE(8));
  if (type === 'mluc' && tag.length >= 28) {
    const at = tag.readUInt32BE(24);
    const units = tag.subarray(at, at + tag.readUInt32BE(20));
    text = Buffer.from(units.subarray(0, units.length & ~1))
      .swap16()
      .toString('utf16le');
  }
  text = text.split('\0', 1)[0].trim();
  return text === '' ? undefined : text;
}

function isNear(tag: Buffer | undefined, expected: readonly [number, number, number]): boolean {
  if (tag === undefined || tag.length < 20 || tag.toString('latin1', 0, 4) !== 'XYZ ') return false;
  return expected.every((value, i) => Math.abs(fixed(tag, 8 + 4 * i) - value) <= COLORANT_TOLERANCE);
}

function isSrgbCurve(tag: Buffer | undefined): boolean {
  const curve = tag === undefined ? undefined : readCurve(tag);
  if (curve === undefined) return false;
  for (let code = 0; code <= 255; code++) {
    if (Math.abs(curve(code / 255) - linearFromSrgb(code / 255)) > CURVE_TOLERANCE) return false;
  }
  return true;
}

/** The curve from coded value to linear light, 0..1 both; undefined for kinds that sRGB profiles do not use. */
function readCurve(tag: Buffer): ((coded: number) => number) | undefined {
  if (tag.length < 12) return undefined;
  const type = tag.toString('latin1', 0, 4);
  if (type === 'curv') return readSampledCurve(tag);
  if (type !== 'para' || tag.readUInt16BE(8) !== 3 || tag.length < 32) return undefined;
  const [exponent, a, b, slope, from] = [12, 16, 20, 24, 28].map((at) => fixed(tag, at));
  return (coded) => (coded >= from ? (a * coded + b) ** exponent : slope * coded);
}

function readSampledCurve(tag: Buffer): ((coded: number) => number) | undefined {
  const count = tag.readUInt32BE(8);
  if (count < 2 || tag.length < 12 + 2 * count) return undefined;
  return (coded) => {
    const place = coded * (count - 1);
    const below = Math.min(Math.floor(place), count - 2);
    const [low, high] = [below, below + 1].map((i) => tag.readUInt16BE(12 + 2 * i) / 65535);
    return low + (place - below) * (high - low);
  };
}

function fixed(bytes: Buffer, at: number): number {
  return bytes.readInt32BE(at) / 65536;
}
