/**
 * What the camera wrote about the exposure (Exif 2.32). Nothing here can make a photograph unreadable: a fact that is
 * missing, damaged or senseless (zero, infinite) is left out.
 *
 * The dozen tags are read here because a general metadata reader takes longer to load than two photographs to decode.
 */
import type { CameraFacts } from './photo.ts';
import { TIFF_TAG, type TiffDirectory, TiffStructure } from './tiff-directory.ts';

const EXIF_HEADING = 'Exif\0\0';

/** `block` is the Exif block of a JPEG or PNG, with or without its heading, or a whole TIFF file. */
export function readCameraFacts(block: Buffer | undefined): CameraFacts {
  if (block === undefined) return {};
  const headed = block.toString('latin1', 0, EXIF_HEADING.length) === EXIF_HEADING;
  const structure = TiffStructure.open(headed ? block.subarray(EXIF_HEADING.length) : block);
  const main = structure?.mainDirectories().directories[0];
  if (structure === undefined || main === undefined) return {};
  const exif = structure.directoriesBehind(main, TIFF_TAG.exifDirectory)[0];
  return withoutMissing({
    exposureTime_s: positive(exif, TIFF_TAG.exposureTime),
    fNumber: positive(exif, TIFF_TAG.fNumber),
    iso: positive(exif, TIFF_TAG.isoSpeed),
    focalLength_mm: positive(exif, TIFF_TAG.focalLength),
    focalLength35_mm: positive(exif, TIFF_TAG.focalLength35),
    takenAt: exif?.text(TIFF_TAG.dateTimeOriginal),
    make: main.text(TIFF_TAG.make),
    model: main.text(TIFF_TAG.model),
  });
}

function positive(directory: TiffDirectory | undefined, tag: number): number | undefined {
  const value = directory?.numbers(tag)[0];
  return value !== undefined && Number.isFinite(value) && value > 0 ? value : undefined;
}

function withoutMissing(facts: { [Key in keyof CameraFacts]-?: CameraFacts[Key] | undefined }): CameraFacts {
  return Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined));
}
