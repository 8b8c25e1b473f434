/** Kinds of files that are not read, each with the way to a file that is. */
import { type Facts, nameShot, type RefusalWords, type RefusedShot } from './facts.ts';

const CAMERA_JPEG = 'Set the camera to JPEG at its best quality, or export the photograph as JPEG or 16-bit TIFF.';
const FLAT = 'Export it as JPEG, PNG or TIFF with one still picture on one layer and no transparency.';

const FORMATS: Readonly<Record<string, readonly [is: string, remedy: string]>> = {
  heic: [
    'is a HEIC (HEIF) file',
    'Set the telephone’s camera to its most compatible format (JPEG), or export the photograph as JPEG at full size.',
  ],
  dng: ['is a raw file (DNG)', 'Develop it to a 16-bit TIFF without lens correction, sharpening or cropping.'],
  raw: [
    'is a raw file of the camera',
    'Develop it to a 16-bit TIFF without lens correction, sharpening or cropping, or set the camera to JPEG.',
  ],
  gif: ['is a GIF file', CAMERA_JPEG],
  webp: ['is a WebP file', CAMERA_JPEG],
  avif: ['is an AVIF file', CAMERA_JPEG],
  bmp: ['is a BMP file', 'Export it as PNG.'],
  svg: ['is a drawing (SVG), not a photograph', CAMERA_JPEG],
  pdf: ['is a PDF document, not a photograph', CAMERA_JPEG],
  psd: ['is a layered document of an editing program', FLAT],
  jxl: ['is a JPEG XL file', CAMERA_JPEG],
  'jpeg-2000': ['is a JPEG 2000 file', CAMERA_JPEG],
  video: ['is a film, not a photograph', 'Take a still photograph; a frame of a film is too coarse to measure.'],
  animation: ['holds an animation', FLAT],
  'several-pages': ['holds several pictures in one file', FLAT],
  transparency: ['has transparent parts', FLAT],
  cmyk: ['is coded in printing inks (CMYK)', 'Export it as JPEG or 16-bit TIFF in sRGB.'],
  'floating-point': ['holds floating-point values', 'Export it as 16-bit TIFF in sRGB.'],
  'colour-space': ['is coded in a colour space that is not sRGB', 'Set the camera, or the export, to sRGB.'],
  unknown: ['is not a picture file that Twinplumb knows', CAMERA_JPEG],
};

export const UNSUPPORTED_FORMATS: readonly string[] = Object.keys(FORMATS);

export function wordUnsupportedFormat(facts: Facts, shot: RefusedShot): RefusalWords {
  const [is, remedy] = FORMATS[String(facts.format)] ?? FORMATS.unknown!;
  const file = facts.file === undefined ? '' : ` (${facts.file})`;
  return { message: `${nameShot(shot)}${file} ${is}; JPEG, PNG and TIFF are read.`, remedy };
}
