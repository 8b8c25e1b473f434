/**
 * Decoded, upright pixels as they came out of a photograph: interleaved channels, sRGB-coded.
 * `data[(y * width + x) * channels + c]`, full scale 255 or 65535 by the array's type.
 */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly channels: 1 | 3;
  readonly data: Uint8Array | Uint16Array;
  /** First value of the luminance quantization table of the JPEG that they came out of; left out for files without loss. */
  readonly quantization?: number;
}
