/**
 * The way of a point of one eye's picture from the film to the photograph, with everything that bends it.
 *
 *   film motion -> projection lens -> attachment (misalignment, mirrors) -> port to screen -> camera -> its lens -> glasses
 *
 * Film and straight picture: ih, y up. The projection lens has its axis in the middle of the film frame, so that the two
 * pictures stand above and below it; the attachment then brings them together. The screen is the plane z = 0 or a cylinder
 * that stands upright, hollow towards the audience, and touches that plane in the picture's middle.
 */
import type { Eye } from '../kernel/eye.ts';
import { compose, type Homography, invert, transfer } from '../kernel/homography.ts';
import type { Point } from '../kernel/point.ts';
import { type Camera, cameraAxes, distortPoint, imageCentre, photoFromScreen, undistortPoint } from './camera.ts';
import { type FilmFrame, moveWithFilm, DEFAULT_FILM } from './film-motion.ts';
import { seeThrough } from './glasses.ts';
import {
  bendByLens,
  bendByMirror,
  eyeDisplacement,
  projectorAxes,
  projectorPosition,
  screenFromChart,
} from './projector.ts';
import type { Scene, Shot } from './scene.ts';
import { dot, subtract, type Vector } from './space.ts';

/** Whether homographies and the camera's lens say all of a photograph's geometry. */
export function isStraight(scene: Scene, shot: Shot): boolean {
  const { projectionLens, mirrors, screenRadius_ih, glasses } = scene;
  const throughLens = shot.lens !== 'bare' && glasses !== undefined;
  return !(projectionLens || mirrors || screenRadius_ih !== undefined || throughLens || shot.frames);
}

/** Undistorted photo px from chart ih, where the way is straight, or as if it were. */
export function straightPhotoFromChart(scene: Scene, shot: Shot, eye: Eye): Homography {
  return compose(photoFromScreen(shot.camera), screenFromChart(scene.projector, eye, shot.weave_ih));
}

/**
 * From the film at rest to the point of the screen, ih (z towards the audience); `frame`: as the film stands there. The
 * way includes the place of the film that belongs to the whole shot.
 */
export function screenFromFilm(scene: Scene, shot: Shot, eye: Eye, frame?: FilmFrame): (p: Point) => Vector {
  const { projector, film = DEFAULT_FILM, projectionLens, screenRadius_ih } = scene;
  const { weave_ih } = shot;
  const displaced = compose([1, 0, weave_ih.x, 0, 1, weave_ih.y, 0, 0, 1], eyeDisplacement(projector, eye));
  const bend = projectionLens && bendByLens(projectionLens, film, scene.aspect, eye);
  const figure = scene.mirrors?.[eye];
  const mirror = figure && bendByMirror(figure, scene.aspect);
  const port = projectorPosition(projector);
  const { forward, right, up } = projectorAxes(projector);
  const d = projector.throw_ih;
  return (chartPoint) => {
    const turned = projector.filmTurnedOver ? { x: -chartPoint.x, y: chartPoint.y } : chartPoint;
    const moved = frame ? moveWithFilm(film, eye, frame, turned) : turned;
    const bent = bend ? bend(moved) : moved;
    const placed = transfer(displaced, bent);
    const q = mirror ? mirror(placed) : placed;
    const ray = {
      x: d * forward.x + q.x * right.x + q.y * up.x,
      y: d * forward.y + q.x * right.y + q.y * up.y,
      z: d * forward.z + q.x * right.z + q.y * up.z,
    };
    return meetScreen(port, ray, screenRadius_ih);
  };
}

/** Undistorted photo px of a point of the house. */
export function projectIntoPhoto(camera: Camera): (point: Vector) => Point {
  const { right, down, forward } = cameraAxes(camera);
  const c = imageCentre(camera);
  return (point) => {
    const to = subtract(point, camera.position_ih);
    const depth = dot(forward, to);
    return {
      x: c.x + (camera.focal_px * dot(right, to)) / depth,
      y: c.y + (camera.focal_px * dot(down, to)) / depth,
    };
  };
}

/** Photo px from chart ih, with the lenses of the camera and of the glasses. */
export function photoFromFilm(scene: Scene, shot: Shot, eye: Eye, frame?: FilmFrame): (p: Point) => Point {
  const { camera } = shot;
  const lens = shot.lens === 'bare' ? undefined : scene.glasses?.[shot.lens];
  const glasses = lens && seeThrough(lens, imageCentre(camera));
  if (isStraight(scene, shot)) {
    const photoFromChart = straightPhotoFromChart(scene, shot, eye);
    return (p) => distortPoint(camera, transfer(photoFromChart, p));
  }
  const toScreen = screenFromFilm(scene, shot, eye, frame);
  const toPhoto = projectIntoPhoto(camera);
  return (p) => {
    const inPhoto = distortPoint(camera, toPhoto(toScreen(p)));
    return glasses ? glasses(inPhoto) : inPhoto;
  };
}

/** Where the camera's ray through a photo point meets the screen, ih. The glasses' own shift of a few px is left out. */
export function screenFromPhoto(scene: Scene, camera: Camera): (p: Point) => Vector {
  if (scene.screenRadius_ih === undefined) {
    const plane = invert(photoFromScreen(camera));
    return (p) => ({ ...transfer(plane, undistortPoint(camera, p)), z: 0 });
  }
  const { right, down, forward } = cameraAxes(camera);
  const c = imageCentre(camera);
  return (p) => {
    const q = undistortPoint(camera, p);
    const [x, y] = [(q.x - c.x) / camera.focal_px, (q.y - c.y) / camera.focal_px];
    const ray = {
      x: forward.x + x * right.x + y * down.x,
      y: forward.y + x * right.y + y * down.y,
      z: forward.z + x * right.z + y * down.z,
    };
    return meetScreen(camera.position_ih, ray, scene.screenRadius_ih);
  };
}

/** The unit vector square to the screen, towards the audience. */
export function screenNormal({ screenRadius_ih: radius }: Scene, at: Vector): Vector {
  if (radius === undefined) return { x: 0, y: 0, z: 1 };
  return { x: -at.x / radius, y: 0, z: (radius - at.z) / radius };
}

/** The point at which a ray meets the plane z = 0, or the cylinder x^2 + (z - R)^2 = R^2 on its side of the screen. */
function meetScreen(from: Vector, ray: Vector, radius: number | undefined): Vector {
  let s = -from.z / ray.z;
  if (radius !== undefined) {
    const a = ray.x ** 2 + ray.z ** 2;
    const b = from.x * ray.x + (from.z - radius) * ray.z;
    const c = from.x ** 2 + from.z ** 2 - 2 * radius * from.z;
    // The screen is the far side: port and camera stand within the cylinder or before it.
    s = (-b + Math.sqrt(b * b - a * c)) / a;
  }
  return { x: from.x + s * ray.x, y: from.y + s * ray.y, z: radius === undefined ? 0 : from.z + s * ray.z };
}
