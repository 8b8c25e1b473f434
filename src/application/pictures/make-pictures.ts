/**
 * The pictures of a report: both photographs laid over each other, and pieces of both at full resolution where it
 * matters: the mark that fits worst, the centre, the corners.
 */
import { overlayPhotographs } from './overlay-photographs.ts';
import { type Homography, transfer } from '../../kernel/homography.ts';
import type { Photo } from '../../photo/photo.ts';
import { readPhoto } from '../../photo/read-photo.ts';
import { type Rectangle, cropJpeg, encodeJpeg } from '../../photo/write-photo.ts';
import type { MarkEvidence, MeasuredReading } from '../../record/reading.ts';
import type { LensRole } from '../../record/roles.ts';

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
  readonly jpeg: Readonly<Record<LensRole, Uint8Array>>;
}

export interface Pictures {
  readonly overlay: { readonly jpeg: Uint8Array; readonly region: Region };
  readonly crops: readonly Crop[];
}

export interface PicturesRequest {
  readonly leftPath: string;
  readonly rightPath: string;
  readonly reading: MeasuredReading;
}

/** Free space around the picture area, in picture heights; also room for the arrows drawn on top. */
const MARGIN_IH = 0.1;
const LARGEST_OVERLAY_PX = 2000;
const CROP_SIDE_IH = 0.22;
const QUALITY = 84;

/** Throws when a photograph is no longer the one that was measured. */
export async function makePictures({ leftPath, rightPath, reading }: PicturesRequest): Promise<Pictures> {
  const [left, right] = await Promise.all([
    readAgain(leftPath, 'left-lens', reading),
    readAgain(rightPath, 'right-lens', reading),
  ]);
  return { overlay: await makeOverlay(left, right, reading), crops: await makeCrops(left, right, reading) };
}

async function readAgain(path: string, role: LensRole, reading: MeasuredReading): Promise<Photo> {
  const again = await readPhoto(path);
  const measured = reading.shots.find((shot) => shot.role === role);
  if (again.outcome === 'refused' || again.photo.sha256 !== measured?.sha256) {
    throw new Error(`the photograph ${path} changed while it was being measured`);
  }
  return again.photo;
}

async function makeOverlay(left: Photo, right: Photo, reading: MeasuredReading): Promise<Pictures['overlay']> {
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

async function makeCrops(left: Photo, right: Photo, reading: MeasuredReading): Promise<Crop[]> {
  const pixelsPerHeight = heightInPixels(reading);
  const side = Math.min(left.width, left.height, Math.round(CROP_SIDE_IH * pixelsPerHeight));
  return Promise.all(
    chooseMarks(reading).map(async ([place, mark]): Promise<Crop> => {
      const within = (centre: number, size: number) =>
        Math.max(0, Math.min(size - side, Math.round(centre - (side - 1) / 2)));
      const [x, y] = mark.photo_px;
      const rectangle = { x0: within(x, left.width), y0: within(y, left.height), width: side, height: side };
      const [leftJpeg, rightJpeg] = await Promise.all(
        [left, right].map(({ pixels }) => cropJpeg(pixels, rectangle, side, QUALITY)),
      );
      return {
        place,
        markId: mark.id,
        region: regionOf(rectangle),
        jpeg: { 'left-lens': leftJpeg!, 'right-lens': rightJpeg! },
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
  readonly crops: readonly (Omit<Crop, 'jpeg'> & { readonly dataUri: Readonly<Record<LensRole, string>> })[];
}

/** The pictures of a report as they stand in its one file: inline, as data URIs. */
export function embedPictures({ overlay, crops }: Pictures): EmbeddedPictures {
  return {
    overlay: { dataUri: dataUri(overlay.jpeg), region: overlay.region },
    crops: crops.map(({ jpeg, ...crop }) => ({
      ...crop,
      dataUri: { 'left-lens': dataUri(jpeg['left-lens']), 'right-lens': dataUri(jpeg['right-lens']) },
    })),
  };
}

function dataUri(jpeg: Uint8Array): string {
  return `data:image/jpeg;base64,${Buffer.from(jpeg.buffer, jpeg.byteOffset, jpeg.byteLength).toString('base64')}`;
}
