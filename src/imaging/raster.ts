/**
 * A grey picture in memory: `data[y * width + x]`, row by row from the top.
 * The centre of the top-left pixel is (0, 0); x right, y down. The unit of the values is the holder's business;
 * for luminance it is linear light with 1 = the brightest value the file can hold.
 */
export interface Raster {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}
