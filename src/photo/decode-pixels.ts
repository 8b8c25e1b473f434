/** Bytes of a recognised photograph -> upright, sRGB-coded pixels. */

import sharp from 'sharp';
import type { Pixels } from '../imaging/pixels.ts';
import type { PhotoFormat, StoredOrientation } from './photo.ts';

// The codec is set up once for the whole program. Every file is decoded once; a cache of decoded pictures would only hold memory.
sharp.cache(false);

export { sharp };

export interface DecodingPlan {
  readonly format: PhotoFormat;
  readonly bitDepth: 8 | 16;
  readonly grey: boolean;
  readonly orientation: StoredOrientation;
  /** Convert from the embedded profile to sRGB; false when there is none or it is sRGB itself. */
  readonly convertColours: boolean;
  readonly limitPixels: number;
}

export type DecodingFault = 'truncated' | 'damaged' | 'transparency';

/** The alpha channel of a photograph says nothing, so it must be opaque everywhere; it is dropped then. */
export async function decodePixels(bytes: Buffer, plan: DecodingPlan): Promise<Pixels | DecodingFault> {
  let decoded: DecodedSamples;
  try {
    decoded = await decodeStrictly(bytes, plan);
  } catch (error) {
    return describeDecodingError(error);
  }
  const { width, height, channels } = decoded;
  if (channels === 1 || channels === 3) return { width, height, channels, data: decoded.samples };
  const opaque = dropOpaqueAlpha(decoded.samples, channels);
  return opaque === undefined ? 'transparency' : { width, height, channels: channels === 2 ? 1 : 3, data: opaque };
}

/** What the decoder's words mean for the file: its end is missing, or something within it is wrong. */
export function describeDecodingError(error: unknown): 'truncated' | 'damaged' {
  return /premature end of (JPEG|input)/i.test(String(error)) ? 'truncated' : 'damaged';
}

interface DecodedSamples {
  readonly width: number;
  readonly height: number;
  readonly channels: 1 | 2 | 3 | 4;
  readonly samples: Uint8Array | Uint16Array;
}

/** Complaints that leave every pixel right: stray bytes before a header segment, ill-formed texts beside the picture. */
const HARMLESS_COMPLAINTS: Readonly<Record<PhotoFormat, RegExp>> = {
  JPEG: /^(Error: )?VipsJpeg: Corrupt JPEG data: \d+ extraneous bytes before marker 0x(e[0-9a-f]|fe|db|dd|c0|c2)$/,
  PNG: /iCCP/,
  TIFF: /^(Error: )?Warning treated as error|ASCII value for tag|Unknown field with tag|^error in tile 0 x 0$/,
};

/**
 * Decoders hand out grey areas for damaged data and call it a warning, so any warning refuses the file at first. When
 * all that was said is harmless the file is decoded again with errors only.
 *
 * What the decoder says nothing of, damaged bytes within a JPEG that happen to be valid codes, is counted in
 * `jpeg/find-jpeg-damage.ts`.
 */
async function decodeStrictly(bytes: Buffer, plan: DecodingPlan): Promise<DecodedSamples> {
  try {
    return await decode(bytes, plan, 'warning');
  } catch (error) {
    const complaints = String(error).trim().split('\n');
    if (!complaints.every((complaint) => HARMLESS_COMPLAINTS[plan.format].test(complaint.trim()))) throw error;
    return decode(bytes, plan, 'error');
  }
}

async function decode(bytes: Buffer, plan: DecodingPlan, failOn: 'warning' | 'error'): Promise<DecodedSamples> {
  const deep = plan.bitDepth === 16;
  let picture = sharp(bytes, { failOn, limitInputPixels: plan.limitPixels, ignoreIcc: !plan.convertColours });
  if (plan.orientation !== 1) picture = picture.autoOrient();
  if (plan.grey) picture = picture.toColourspace(deep ? 'grey16' : 'b-w');
  else if (deep) picture = picture.toColourspace('rgb16');
  const { data, info } = await picture.raw({ depth: deep ? 'ushort' : 'uchar' }).toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, channels: info.channels, samples: asSamples(data, deep) };
}

/** A view, not a copy, unless 16-bit samples happen to stand at an odd address. */
function asSamples(data: Buffer, deep: boolean): Uint8Array | Uint16Array {
  if (!deep) return new Uint8Array(data.buffer, data.byteOffset, data.byteLength);
  const aligned = data.byteOffset % 2 === 0 ? data : Uint8Array.from(data);
  return new Uint16Array(aligned.buffer, aligned.byteOffset, data.byteLength / 2);
}

/** Moves the colours together within the same memory; undefined when any pixel is not opaque. */
function dropOpaqueAlpha(samples: Uint8Array | Uint16Array, channels: 2 | 4): Uint8Array | Uint16Array | undefined {
  const fullScale = samples instanceof Uint8Array ? 255 : 65535;
  let target = 0;
  for (let source = 0; source < samples.length; source += channels) {
    if (samples[source + channels - 1] !== fullScale) return undefined;
    for (let c = 0; c < channels - 1; c++) samples[target++] = samples[source + c];
  }
  return samples.subarray(0, target);
}
