/** A photograph as the rest of the program sees it: upright pixels and the facts of its file. */
import type { Pixels } from '../imaging/pixels.ts';

export type PhotoFormat = 'JPEG' | 'PNG' | 'TIFF';

/** The eight ways a camera can store a picture turned or mirrored (Exif 2.32, tag Orientation). */
export type StoredOrientation = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;

export interface ColourProfile {
  /** Name of the profile embedded in the file; null when there is none and sRGB was taken for granted. */
  readonly name: string | null;
  /** Whether the pixels were converted from that profile to sRGB. */
  readonly converted: boolean;
}

/** What the camera wrote about the exposure; every fact may be missing. */
export interface CameraFacts {
  readonly exposureTime_s?: number;
  readonly fNumber?: number;
  readonly iso?: number;
  readonly focalLength_mm?: number;
  /** Focal length of the same view on 35 mm film. */
  readonly focalLength35_mm?: number;
  /** As stored, in the camera's own clock: `2026:11:25 14:03:22`. */
  readonly takenAt?: string;
  readonly make?: string;
  readonly model?: string;
}

export interface Photo {
  /** The path it was read from, as given. */
  readonly file: string;
  /** SHA-256 of the bytes of the file, hexadecimal. */
  readonly sha256: string;
  readonly bytes: number;
  readonly format: PhotoFormat;
  /** Upright size in pixels. */
  readonly width: number;
  readonly height: number;
  readonly bitDepth: 8 | 16;
  /** Upright and sRGB-coded. */
  readonly pixels: Pixels;
  /** As the file stored it, before the pixels were turned upright. */
  readonly orientation: StoredOrientation;
  readonly colourProfile: ColourProfile;
  readonly camera: CameraFacts;
}

export type PhotoRefusalCode = 'unreadable-photo' | 'unsupported-format' | 'photo-too-large';
