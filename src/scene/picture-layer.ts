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
import type { Raster } from '../imaging/raster.ts';
import type { Eye } from '../kernel/eye.ts';
import { type Homography, invert, transfer } from '../kernel/homography.ts';
import type { Point } from '../kernel/point.ts';
import { layOutChart } from '../target/chart.ts';
import { drawPicture } from '../target/draw-picture.ts';
import { rasterise } from '../target/rasterise.ts';
import { type Contour, flatten, rectangle, type Shape } from '../target/shapes.ts';
import { blurAlongLine, blurGaussian } from './blur.ts';
import { distortPoint, photoFromScreen, undistortPoint } from './camera.ts';
import { screenGain, vignetting } from './light.ts';
import { depthBehindCut, passedByCut, passedByHead, reachOfHead } from './obstacles.ts';
import { multiplyInto, type PhotoWindow, smoothField, windowAround } from './photo-window.ts';
import { depolarizationAt, passage } from './polarization.ts';
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

export function renderPictureLayer(scene: Scene, shot: Shot, eye: Eye, photoFromChart: Homography): Raster {
  const photo = { width: shot.camera.width_px, height: shot.camera.height_px };
  const shapes = pictureShapes(scene, eye);
  const toPhoto = (chartPoint: Point) => distortPoint(shot.camera, transfer(photoFromChart, chartPoint));
  const margin = Math.ceil(4 * shot.defocus_px + shot.motion.length_px) + 2;
  const window = windowAround(
    shapes[0].contours[0].map((corner) => toPhoto(corner as Point)),
    margin,
    photo,
  );
  const layer = rasterise(shapes, {
    width: window.width,
    height: window.height,
    toPixel: (chartPoint) => {
      const { x, y } = toPhoto(chartPoint);
      return { x: x - window.left, y: y - window.top };
    },
  });
  multiplyInto(layer, smoothField(window, lightOfPlace(scene, shot, eye)));
  cutPicture(layer, scene, shot, eye, photoFromChart, window);
  coverByHeads(layer, shot, window);
  const moved = blurAlongLine(layer, shot.motion.length_px, shot.motion.angle_deg);
  return placeInPhoto(blurGaussian(moved, shot.defocus_px), window, photo);
}

/** The picture area with its black, then the target (or, without film, light) over it; white minus black is 1. All outlines in short pieces. */
function pictureShapes(scene: Scene, eye: Eye): Shape[] {
  const black = scene.blackLevel / (1 - scene.blackLevel);
  const area = rectangle({ left: -scene.aspect / 2, right: scene.aspect / 2, bottom: -0.5, top: 0.5 });
  const target: readonly Shape[] = scene.openGate
    ? [{ part: 'picture-area', level: 1, contours: [area] }]
    : drawPicture(layOutChart(scene.aspect), eye);
  const shapes: readonly Shape[] = [{ part: 'picture-area', level: 0, contours: [area] }, ...target];
  return shapes.map(({ part, level, contours }) => ({
    part,
    level: black + level,
    contours: contours.map(inShortPieces),
  }));
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
  const screenFromPhoto = invert(photoFromScreen(shot.camera));
  const port = projectorPosition(scene.projector);
  const { polarization } = scene;
  const cleanPassage = passage(polarization, eye, shot.lens);
  return (photoPoint) => {
    const onScreen = transfer(screenFromPhoto, undistortPoint(shot.camera, photoPoint));
    const light =
      screenGain(scene.surface, port, shot.camera.position_ih, onScreen) *
      vignetting(shot.camera, shot.vignetting, photoPoint);
    if (polarization.patches.length === 0) return light;
    return (light * passage(polarization, eye, shot.lens, depolarizationAt(polarization, onScreen))) / cleanPassage;
  };
}

function cutPicture(
  layer: Raster,
  scene: Scene,
  shot: Shot,
  eye: Eye,
  photoFromChart: Homography,
  window: PhotoWindow,
): void {
  const chartFromPhoto = invert(photoFromChart);
  for (const cut of scene.cuts) {
    if (cut.eye !== 'both' && cut.eye !== eye) continue;
    const depth = smoothField(window, (photoPoint) =>
      depthBehindCut(cut, transfer(chartFromPhoto, undistortPoint(shot.camera, photoPoint))),
    );
    for (let i = 0; i < depth.data.length; i++) {
      if (depth.data[i] > -cut.softness_ih) layer.data[i] *= passedByCut(cut, depth.data[i]);
    }
  }
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
