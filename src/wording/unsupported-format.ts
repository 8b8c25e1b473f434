/** Kinds of files that are not read, each with the way to a file that is. */
import { type Facts, nameShot, type RefusalWords, type RefusedShot } from './facts.ts';

type Words = readonly [is: string, remedy: string];

const CAMERA_JPEG = 'Set the camera to JPEG at its best quality, or export the photograph as JPEG or 16-bit TIFF.';
const DEVELOP =
  'Develop it to a 16-bit TIFF in sRGB without lens correction, sharpening or cropping, or set the camera to JPEG.';
const FLAT = 'Export it as JPEG, PNG or TIFF with one still picture, one layer and no transparency.';
const PLAIN_TIFF = 'Export it as an ordinary 8- or 16-bit TIFF in sRGB.';

/** By `format`, when the reason is the format itself. */
const FORMATS: Readonly<Record<string, Words>> = {
  HEIC: [
    'is a HEIC (HEIF) file',
    'Set the telephone’s camera to its most compatible format (JPEG), or export the photograph as JPEG at full size.',
  ],
  DNG: ['is a raw file (DNG)', DEVELOP],
  'camera raw': ['is a raw file of the camera', DEVELOP],
  BigTIFF: ['is a BigTIFF file', PLAIN_TIFF],
  AVIF: ['is an AVIF file', CAMERA_JPEG],
  WebP: ['is a WebP file', CAMERA_JPEG],
  'JPEG XL': ['is a JPEG XL file', CAMERA_JPEG],
  'JPEG 2000': ['is a JPEG 2000 file', CAMERA_JPEG],
  GIF: ['is a GIF file', CAMERA_JPEG],
  BMP: ['is a BMP file', 'Export it as PNG.'],
  OpenEXR: ['is an OpenEXR file', PLAIN_TIFF],
  SVG: ['is a drawing (SVG), not a photograph', CAMERA_JPEG],
  PDF: ['is a PDF document, not a photograph', CAMERA_JPEG],
  ZIP: ['is a packed archive, not a photograph', 'Unpack it and give the photograph itself.'],
  video: ['is a film, not a photograph', 'Take a still photograph; a frame of a film is too coarse to measure.'],
  text: ['is a text file, not a photograph', 'Check that the right file was given.'],
  unknown: ['is not a picture file that Twinplumb knows', CAMERA_JPEG],
};

/** By `reason`, when the format would do but not what is in it. */
const CONTENTS: Readonly<Record<string, Words>> = {
  animation: ['holds an animation', FLAT],
  'several-pages': ['holds several pictures in one file', FLAT],
  transparency: ['has transparent parts', FLAT],
  'colour-model': ['is coded in colours that are not RGB or grey (such as CMYK)', PLAIN_TIFF],
  'sample-depth': ['holds values other than 8 or 16 bit', PLAIN_TIFF],
  gamma: ['is coded with another brightness curve than sRGB', 'Set the camera, or the export, to sRGB.'],
};

export const UNSUPPORTED_FORMATS: readonly string[] = Object.keys(FORMATS);
export const UNSUPPORTED_CONTENTS: readonly string[] = Object.keys(CONTENTS);

export function translateUnsupportedFormat(facts: Facts, shot: RefusedShot): RefusalWords {
  const [is, remedy] = CONTENTS[String(facts.reason)] ?? FORMATS[String(facts.format)] ?? FORMATS.unknown!;
  const file = facts.file === undefined ? '' : ` (${facts.file})`;
  return { message: `${nameShot(shot)}${file} ${is}; JPEG, PNG and TIFF photographs are read.`, remedy };
}
