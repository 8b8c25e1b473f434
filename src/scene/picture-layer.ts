/**
 * One eye's picture as it falls on the sensor when its strength is 1.
 *
 *   layer(p) = blur( coverage(p) * gain(p) * vignetting(p) * patches(p) * cuts(p) * heads(p) )
 *
 * The coverage is exact: every outline of the target is carried to the photo by the eye's photo_from_chart transform
 * and the lens distortion, corner by corner, and the area of each pixel that it covers is summed. What varies smoothly
 * is taken at the pixel. The blur comes after the pixels have been filled, so that sharp edges alias a little: a crossing
 * of any blur then seems to stand up to 0.0015 px from its true place, differently for each crossing.
 */
import type { Raster } from '../imaging/pixels.ts';
import type { Eye } from '../kernel/eye.ts';
import { type Homography, invert, transfer } from '../kernel/homography.ts';
import type { Point } from '../kernel/point.ts';
import { layoutChart } from '../target/chart.ts';
import { drawPicture } from '../target/draw-picture.ts';
import { rasterise } from '../target/rasterise.ts';
import { type Contour, flatten, rectangle, type Shape } from '../target/shapes.ts';
import { blurAlongLine, blurGaussian } from './blur.ts';
import { distortPoint, undistortPoint } from './camera.ts';
import type { FilmFrame } from './film-motion.ts';
import { screenGainAt, vignetting } from './light.ts';
import { depthBehindCut, passedByCut, passedByHead, reachOfHead } from './obstacles.ts';
import { multiplyInto, type PhotoWindow, smoothField, windowAround } from './photo-window.ts';
import { isStraight, photoFromFilm, screenFromPhoto, screenNormal, straightPhotoFromChart } from './picture-path.ts';
import { depolarizationAt, transmittance } from './polarization.ts';
import { misprint } from './print-errors.ts';
import { projectorPosition } from './projector.ts';
import type { Scene, Shot } from './scene.ts';

/** How far a chord of an arc may leave it, ih: 1e-4 px where a picture height has 1000 px. */
const ARC_TOLERANCE_IH = 1e-7;

/**
 * Longest straight piece that is carried to the photo by its ends alone. The lens bends a line by about 6 k1 / R per
 * px, R half the photo's diagonal; a piece this long (8 px of a 12 megapixel photo) then leaves its chord by 1e-3 px
 * at k1 = 0.05.
 */
const MAX_PIECE_IH = 0.006;

interface OtherPlace {
  /** The whole picture is displaced by this, as a stray copy is. */
  readonly offset_ih?: Point;
  /** Undistorted photo px from chart ih, instead of the scene's own way. */
  readonly photoFromChart?: Homography;
}

export function renderPictureLayer(
  scene: Scene,
  shot: Shot,
  eye: Eye,
  { offset_ih, photoFromChart }: OtherPlace = {},
): Raster {
  const photo = { width: shot.camera.width_px, height: shot.camera.height_px };
  const shapes = pictureShapes(scene, eye);
  const pathOf = (frame?: FilmFrame): ((chartPoint: Point) => Point) => {
    if (photoFromChart) return (p) => distortPoint(shot.camera, transfer(photoFromChart, p));
    const toPhoto = photoFromFilm(scene, shot, eye, frame);
    return offset_ih ? (p) => toPhoto({ x: p.x + offset_ih.x, y: p.y + offset_ih.y }) : toPhoto;
  };
  const atRest = pathOf();
  const blur_px = Math.hypot(shot.defocus_px, (scene.blur_ih?.[eye] ?? 0) * pixelsPerHeight(shot.camera));
  const margin = Math.ceil(4 * blur_px + shot.motion.length_px + reachOfFilm(shot)) + 2;
  const window = windowAround(
    shapes[0].contours[0].map((corner) => atRest(corner as Point)),
    margin,
    photo,
  );
  const drawn = (toPhoto: (chartPoint: Point) => Point) =>
    rasterise(shapes, {
      width: window.width,
      height: window.height,
      toPixel: (chartPoint) => {
        const { x, y } = toPhoto(chartPoint);
        return { x: x - window.left, y: y - window.top };
      },
    });
  const layer = shot.frames ? averageFrames(shot.frames, eye, (frame) => drawn(pathOf(frame))) : drawn(atRest);
  multiplyInto(layer, smoothField(window, lightOfPlace(scene, shot, eye)));
  const texture = textureOfScreen(scene, shot, window);
  if (texture) multiplyInto(layer, texture);
  cutPicture(layer, scene, shot, eye, offset_ih ?? { x: 0, y: 0 }, window);
  coverByHeads(layer, shot, window);
  const moved = blurAlongLine(layer, shot.motion.length_px, shot.motion.angle_deg);
  return placeInPhoto(blurGaussian(moved, blur_px), window, photo);
}

function averageFrames(frames: readonly FilmFrame[], eye: Eye, draw: (frame: FilmFrame) => Raster): Raster {
  let sum: Raster | undefined;
  for (const frame of frames) {
    const share = frame.share[eye];
    if (share === 0) continue;
    const { width, height, data } = draw(frame);
    sum ??= { width, height, data: new Float32Array(data.length) };
    for (let i = 0; i < data.length; i++) sum.data[i] += share * data[i];
  }
  if (!sum) throw new RangeError('no frame of the film is exposed');
  return sum;
}

/** How far the film's motion carries a picture in the photograph, px, generously. */
function reachOfFilm({ frames = [], camera }: Shot): number {
  return (
    1.5 *
    pixelsPerHeight(camera) *
    Math.max(0, ...frames.map((f) => Math.hypot(f.shift_ih.x, f.shift_ih.y) + 2 * Math.abs(f.turn_rad)))
  );
}

/** In the middle of the screen, seen straight on. */
function pixelsPerHeight({ position_ih: { x, y, z }, focal_px }: Shot['camera']): number {
  return focal_px / Math.hypot(x, y, z);
}

/** The picture area with its black, then the target (or, without film, light) over it; white minus black is 1. All outlines in short pieces. */
function pictureShapes(scene: Scene, eye: Eye): Shape[] {
  const black = scene.blackLevel / (1 - scene.blackLevel);
  const area = rectangle({ left: -scene.aspect / 2, right: scene.aspect / 2, bottom: -0.5, top: 0.5 });
  const target: readonly Shape[] = scene.openGate
    ? [{ part: 'picture-area', level: 1, contours: [area] }]
    : drawPicture(layoutChart(scene.aspect), eye);
  const shapes: readonly Shape[] = [{ part: 'picture-area', level: 0, contours: [area] }, ...target];
  const flat = shapes.map(({ part, level, contours }) => ({
    part,
    level: black + level,
    contours: contours.map(inShortPieces),
  }));
  return scene.print ? misprint(flat, eye, scene.print) : flat;
}

function inShortPieces(contour: Contour): Point[] {
  const corners = flatten(contour, ARC_TOLERANCE_IH);
  return corners.flatMap((a, i) => {
    const b = corners[(i + 1) % corners.length];
    const pieces = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / MAX_PIECE_IH));
    return Array.from({ length: pieces }, (_, k) => ({
      x: a.x + ((b.x - a.x) * k) / pieces,
      y: a.y + ((b.y - a.y) * k) / pieces,
    }));
  });
}

/** Gain, vignetting and what the patches change, at a photo point. */
function lightOfPlace(scene: Scene, shot: Shot, eye: Eye): (photoPoint: Point) => number {
  const toScreen = screenFromPhoto(scene, shot.camera);
  const port = projectorPosition(scene.projector);
  const { polarization } = scene;
  const cleanTransmittance = transmittance(polarization, eye, shot.lens);
  return (photoPoint) => {
    const onScreen = toScreen(photoPoint);
    const light =
      screenGainAt(scene.surface, port, shot.camera.position_ih, onScreen, screenNormal(scene, onScreen)) *
      vignetting(shot.camera, shot.vignetting, photoPoint);
    if (polarization.patches.length === 0) return light;
    return (
      (light * transmittance(polarization, eye, shot.lens, depolarizationAt(polarization, onScreen))) /
      cleanTransmittance
    );
  };
}

function cutPicture(layer: Raster, scene: Scene, shot: Shot, eye: Eye, offset_ih: Point, window: PhotoWindow): void {
  const cuts = scene.cuts.filter((cut) => cut.eye === 'both' || cut.eye === eye);
  if (cuts.length === 0) return;
  const toChart = chartFromPhoto(scene, shot, eye, offset_ih);
  for (const cut of cuts) {
    const depth = smoothField(window, (photoPoint) => depthBehindCut(cut, toChart(photoPoint)));
    for (let i = 0; i < depth.data.length; i++) {
      if (depth.data[i] > -cut.softness_ih) layer.data[i] *= passedByCut(cut, depth.data[i]);
    }
  }
}

/** A cut is soft: where something bends the way, the chart point is found to 1e-5 ih and no closer. */
function chartFromPhoto(scene: Scene, shot: Shot, eye: Eye, offset_ih: Point): (photoPoint: Point) => Point {
  const straight = invert(straightPhotoFromChart(scene, shot, eye));
  const back = (photoPoint: Point) => {
    const { x, y } = transfer(straight, undistortPoint(shot.camera, photoPoint));
    return { x: x - offset_ih.x, y: y - offset_ih.y };
  };
  if (isStraight(scene, shot)) return back;
  const forth = photoFromFilm(scene, shot, eye);
  return (photoPoint) => {
    let c = back(photoPoint);
    for (let i = 0; i < 6; i++) {
      const off = back(forth({ x: c.x + offset_ih.x, y: c.y + offset_ih.y }));
      const wanted = back(photoPoint);
      c = { x: c.x + wanted.x - off.x, y: c.y + wanted.y - off.y };
    }
    return c;
  };
}

/** Darkens what stands behind a head. `window` says where in the photo the raster lies. */
export function coverByHeads(raster: Raster, shot: Shot, window: PhotoWindow): void {
  const photo = { width: shot.camera.width_px, height: shot.camera.height_px };
  for (const head of shot.heads) {
    const { left, right, top } = reachOfHead(head, photo);
    const end = Math.min(right + 1, window.left + window.width);
    for (let y = Math.max(top, window.top); y < window.top + window.height; y++) {
      for (let x = Math.max(left, window.left); x < end; x++) {
        const at = (y - window.top) * window.width + x - window.left;
        if (raster.data[at] !== 0) raster.data[at] *= passedByHead(head, photo, { x, y });
      }
    }
  }
}

function placeInPhoto(part: Raster, window: PhotoWindow, photo: { width: number; height: number }): Raster {
  const data = new Float32Array(photo.width * photo.height);
  for (let y = 0; y < window.height; y++) {
    const row = part.data.subarray(y * window.width, (y + 1) * window.width);
    data.set(row, (y + window.top) * photo.width + window.left);
  }
  return { ...photo, data };
}

/**
 * What the screen itself adds to a picture: the holes through which the loudspeakers are heard, and the seams between the
 * widths of its cloth.
 *
 *   reflects(x, y) = (1 - h (1 + m(x) + m(y))) * product over seams (1 - d exp(-(x - x_s)^2 / (2 w^2)))
 *   m(x) = a cos(2 pi x / pitch)
 *
 * h is the part of the area that the holes take away. Holes are finer than a photo pixel or not much coarser, so that only
 * the ground wave of their lattice is left of them, weakened by the pixel (a = sinc(pixel / pitch)); against the lattice of
 * the pixels it beats as a moire. Places along the screen, ih.
 */
export function textureOfScreen(scene: Scene, shot: Shot, window: PhotoWindow): Raster | undefined {
  const { texture } = scene.surface;
  if (!texture) return undefined;
  const toScreen = screenFromPhoto(scene, shot.camera);
  const along = (x: number) => {
    const radius = scene.screenRadius_ih;
    return radius === undefined ? x : radius * Math.asin(x / radius);
  };
  const xs = smoothField(window, (p) => along(toScreen(p).x));
  const ys = smoothField(window, (p) => toScreen(p).y);
  const { holes, seams } = texture;
  const out = new Float32Array(xs.data.length).fill(1);
  for (let i = 0; i < out.length; i++) {
    const [x, y] = [xs.data[i], ys.data[i]];
    if (holes) {
      const pixel_ih = Math.abs(xs.data[i + 1 < out.length ? i + 1 : i] - x);
      // At the end of a row the next pixel is far away; the footprint is then that of no hole at all.
      const t = (Math.PI * pixel_ih) / holes.pitch_ih;
      const amplitude = t > 0 && t < 20 ? Math.sin(t) / t : 0;
      const wave = Math.cos((2 * Math.PI * x) / holes.pitch_ih) + Math.cos((2 * Math.PI * y) / holes.pitch_ih);
      out[i] *= 1 - holes.part * (1 + amplitude * wave);
    }
    if (seams) {
      const off = x - seams.apart_ih * Math.round(x / seams.apart_ih - 0.5) - 0.5 * seams.apart_ih;
      out[i] *= 1 - seams.depth * Math.exp((-off * off) / (2 * seams.width_ih ** 2));
    }
  }
  return { width: xs.width, height: xs.height, data: out };
}
