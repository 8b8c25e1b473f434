/**
 * The pictures of a report: both photographs laid over each other, and pieces of both at full resolution where it
 * matters: the mark that fits worst, the centre, the corners.
 */
import { type Homography, transfer } from '../../kernel/homography.ts';
import type { Photo } from '../../photo/photo.ts';
import { readPhoto } from '../../photo/read-photo.ts';
import { cropJpeg, encodeJpeg, type Rectangle } from '../../photo/write-photo.ts';
import type { MarkEvidence, MeasuredReading } from '../../record/reading.ts';
import type { PhotographRole, ShotRole } from '../../record/roles.ts';
import { listShownShots, type ShownShot } from '../../record/shown-shots.ts';
import { luminanceCrop } from '../../imaging/luminance.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { srgbFromLinear } from '../../imaging/srgb.ts';

/** Photo px, edges: a whole photograph begins at -0.5, because (0, 0) is the centre of its first pixel. */
export interface Region {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export type Place = 'worst-residual' | 'centre' | 'upper-left' | 'upper-right' | 'lower-left' | 'lower-right';

export interface Crop {
  readonly place: Place;
  readonly markId: string;
  readonly region: Region;
  readonly jpeg: Readonly<Partial<Record<ShotRole, Uint8Array>>>;
}

export interface Pictures {
  readonly overlay: { readonly jpeg: Uint8Array; readonly region: Region };
  readonly crops: readonly Crop[];
}

export interface PicturesRequest {
  /** The photographs of the reading, in any order; those that it shows count. */
  readonly photographs: readonly { readonly role: PhotographRole; readonly path: string }[];
  readonly reading: MeasuredReading;
}

/** Free space around the picture area, in picture heights; also room for the arrows drawn on top. */
const MARGIN_IH = 0.1;
const LARGEST_OVERLAY_PX = 2000;
const CROP_SIDE_IH = 0.22;
const QUALITY = 84;

/** Throws when a photograph is no longer the one that was measured. */
export async function makePictures({ photographs, reading }: PicturesRequest): Promise<Pictures> {
  const shown = await Promise.all(
    listShownShots(reading).map(async (shot): Promise<ShownPhoto> => {
      if (!shot) throw new Error('a reading without its photograph');
      return { role: shot.role, photo: await readAgain(shot, photographs) };
    }),
  );
  return { overlay: await makeOverlay(shown, reading), crops: await makeCrops(shown, reading) };
}

interface ShownPhoto {
  readonly role: ShotRole;
  readonly photo: Photo;
}

/** One of several taken the same way is known by what is in it; its name says where to look first. */
async function readAgain(
  { role, file, sha256 }: ShownShot,
  photographs: PicturesRequest['photographs'],
): Promise<Photo> {
  const alike = photographs.filter((photograph) => photograph.role === role);
  const paths = alike.map(({ path }) => path).toSorted((a, b) => Number(b.endsWith(file)) - Number(a.endsWith(file)));
  for (const path of paths) {
    const again = await readPhoto(path);
    if (again.outcome !== 'refused' && again.photo.sha256 === sha256) return again.photo;
  }
  throw new Error(`the photograph ${paths[0] ?? file} changed while it was being measured`);
}

/** A single photograph is laid over itself: orange and blue add up to its own white. */
async function makeOverlay(shown: readonly ShownPhoto[], reading: MeasuredReading): Promise<Pictures['overlay']> {
  const { photo: left } = shown[0]!;
  const { photo: right } = shown.at(-1)!;
  const window = pictureWindow(reading, left);
  const factor = Math.max(1, Math.ceil(window.width / LARGEST_OVERLAY_PX));
  const composite = overlayPhotographs(left.pixels, right.pixels, window, factor);
  return {
    jpeg: await encodeJpeg(composite, QUALITY, '4:4:4'),
    region: regionOf({ ...window, width: composite.width * factor, height: composite.height * factor }),
  };
}

/** The part of the photographs that holds both eyes' pictures. */
function pictureWindow({ evidence, house }: MeasuredReading, { width, height }: Photo): Rectangle {
  const x = house.aspect / 2 + MARGIN_IH;
  const y = 0.5 + MARGIN_IH;
  const corners = [evidence.photo_from_chart.left, evidence.photo_from_chart.right].flatMap((photoFromChart) =>
    [
      [-x, -y],
      [x, -y],
      [x, y],
      [-x, y],
    ].map(([cx, cy]) => transfer(photoFromChart as Homography, { x: cx!, y: cy! })),
  );
  const xs = corners.map((corner) => corner.x);
  const ys = corners.map((corner) => corner.y);
  const x0 = Math.max(0, Math.floor(Math.min(...xs)));
  const y0 = Math.max(0, Math.floor(Math.min(...ys)));
  return {
    x0,
    y0,
    width: Math.min(width, Math.ceil(Math.max(...xs))) - x0,
    height: Math.min(height, Math.ceil(Math.max(...ys))) - y0,
  };
}

async function makeCrops(shown: readonly ShownPhoto[], reading: MeasuredReading): Promise<Crop[]> {
  const { width, height } = shown[0]!.photo;
  const pixelsPerHeight = heightInPixels(reading);
  const side = Math.min(width, height, Math.round(CROP_SIDE_IH * pixelsPerHeight));
  return Promise.all(
    chooseMarks(reading).map(async ([place, mark]): Promise<Crop> => {
      const within = (centre: number, size: number) =>
        Math.max(0, Math.min(size - side, Math.round(centre - (side - 1) / 2)));
      const [x, y] = mark.photo_px;
      const rectangle = { x0: within(x, width), y0: within(y, height), width: side, height: side };
      const crops = shown.map(
        async ({ role, photo }) => [role, await cropJpeg(photo.pixels, rectangle, side, QUALITY)] as const,
      );
      return {
        place,
        markId: mark.id,
        region: regionOf(rectangle),
        jpeg: Object.fromEntries(await Promise.all(crops)),
      };
    }),
  );
}

function heightInPixels({ evidence }: MeasuredReading): number {
  const photoFromChart: Homography = evidence.photo_from_chart.left;
  const top = transfer(photoFromChart, { x: 0, y: 0.5 });
  const bottom = transfer(photoFromChart, { x: 0, y: -0.5 });
  return Math.hypot(top.x - bottom.x, top.y - bottom.y);
}

export function chooseMarks({ evidence, house }: MeasuredReading): (readonly [Place, MarkEvidence])[] {
  const used = evidence.marks.filter((mark) => mark.used);
  if (used.length === 0) return [];
  const least = (cost: (mark: MarkEvidence) => number) =>
    used.reduce((best, mark) => (cost(mark) < cost(best) ? mark : best));
  const nearest = (x: number, y: number) => least((mark) => Math.hypot(mark.at[0] - x, mark.at[1] - y));
  const x = house.aspect / 2;
  return [
    ['worst-residual', least(({ residual_px: [dx, dy] }) => -Math.hypot(dx, dy))],
    ['centre', nearest(0, 0)],
    ['upper-left', nearest(-x, 0.5)],
    ['upper-right', nearest(x, 0.5)],
    ['lower-left', nearest(-x, -0.5)],
    ['lower-right', nearest(x, -0.5)],
  ];
}

function regionOf({ x0, y0, width, height }: Rectangle): Region {
  return { x: x0 - 0.5, y: y0 - 0.5, width, height };
}

interface EmbeddedPictures {
  readonly overlay: { readonly dataUri: string; readonly region: Region };
  readonly crops: readonly (Omit<Crop, 'jpeg'> & { readonly dataUri: Readonly<Partial<Record<ShotRole, string>>> })[];
}

/** The pictures of a report as they stand in its one file: inline, as data URIs. */
export function embedPictures({ overlay, crops }: Pictures): EmbeddedPictures {
  return {
    overlay: { dataUri: dataUri(overlay.jpeg), region: overlay.region },
    crops: crops.map(({ jpeg, ...crop }) => ({
      ...crop,
      dataUri: Object.fromEntries(Object.entries(jpeg).map(([role, bytes]) => [role, dataUri(bytes)])),
    })),
  };
}

function dataUri(jpeg: Uint8Array): string {
  return `data:image/jpeg;base64,${Buffer.from(jpeg.buffer, jpeg.byteOffset, jpeg.byteLength).toString('base64')}`;
}

/**
 * Two photographs laid over each other: the left lens's light in orange, the right lens's in blue, added as light.
 * Orange and blue add up to white, so what both photographs show alike is white and what only one shows is coloured.
 */

/** Linear light, red, green, blue. */
const ORANGE = [1, 0.42, 0.03] as const;
const BLUE = [0, 0.58, 0.97] as const;

/** The brightest 0.2 % may burn out, so that one reflection does not leave the rest in the dark. */
const WHITE_QUANTILE = 0.998;
const CODES = 4096;

/** Both photographs have one size; `factor` photo pixels each way become one, as the mean of their light. */
export function overlayPhotographs(left: Pixels, right: Pixels, window: Rectangle, factor: number): Pixels {
  const width = Math.floor(window.width / factor);
  const height = Math.floor(window.height / factor);
  const lights = [left, right].map((pixels) => reduceLight(pixels, window, factor, width, height));
  const scales = lights.map((light) => 1 / Math.max(1e-6, quantile(light, WHITE_QUANTILE)));
  const codes = Uint8Array.from({ length: CODES + 1 }, (_, i) => Math.round(255 * srgbFromLinear(i / CODES)));
  const data = new Uint8Array(width * height * 3);
  for (let i = 0; i < width * height; i++) {
    const l = Math.min(1, lights[0]![i]! * scales[0]!);
    const r = Math.min(1, lights[1]![i]! * scales[1]!);
    for (let c = 0; c < 3; c++)
      data[3 * i + c] = codes[Math.round(CODES * Math.min(1, l * ORANGE[c]! + r * BLUE[c]!))]!;
  }
  return { width, height, channels: 3, data };
}

/** Block means of the luminance, one row of blocks at a time. */
function reduceLight(pixels: Pixels, window: Rectangle, factor: number, width: number, height: number): Float32Array {
  const means = new Float32Array(width * height);
  for (let row = 0; row < height; row++) {
    const strip = luminanceCrop(pixels, window.x0, window.y0 + row * factor, width * factor, factor);
    for (let y = 0; y < factor; y++) {
      for (let x = 0; x < width * factor; x++) {
        means[row * width + Math.floor(x / factor)]! += strip.data[y * strip.width + x]! / (factor * factor);
      }
    }
  }
  return means;
}

function quantile(values: Float32Array, q: number): number {
  const sorted = values.toSorted();
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? 0;
}
