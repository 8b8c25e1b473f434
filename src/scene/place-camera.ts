/** Where the simulated camera stands, what it frames and how long it exposes. */
import { EYES } from '../kernel/eye.ts';
import { compose, invert, transfer } from '../kernel/homography.ts';
import type { Point } from '../kernel/point.ts';
import { type Camera, distortPoint, imageCentre, NO_DISTORTION, photoFromScreen, undistortPoint } from './camera.ts';
import { screenGain, vignetting } from './light.ts';
import { transmittance } from './polarization.ts';
import { type Projector, projectorPosition, screenFromChart } from './projector.ts';
import type { Scene, Shot } from './scene.ts';

export interface Place {
  readonly width_px: number;
  readonly height_px: number;
  /** Distance from the screen centre, ih. */
  readonly distance_ih: number;
  /** The camera stands this far to the right of the screen's normal as seen from the audience. */
  readonly azimuth_deg: number;
  /** The camera stands this far above the normal. */
  readonly elevation_deg: number;
}

/** A level camera without distortion that looks at the screen centre; its focal length is still to be set by framing. */
export function placeCamera(place: Place): Camera {
  const azimuth = (place.azimuth_deg * Math.PI) / 180;
  const elevation = (place.elevation_deg * Math.PI) / 180;
  const d = place.distance_ih;
  return {
    width_px: place.width_px,
    height_px: place.height_px,
    focal_px: place.width_px,
    position_ih: {
      x: d * Math.cos(elevation) * Math.sin(azimuth),
      y: d * Math.sin(elevation),
      z: d * Math.cos(elevation) * Math.cos(azimuth),
    },
    lookAt_ih: { x: 0, y: 0 },
    roll_deg: 0,
    distortion: NO_DISTORTION,
  };
}

/** The corners of both eyes' pictures in the photograph, px. */
export function pictureCorners(projector: Projector, aspect: number, camera: Camera): Point[] {
  const fromScreen = photoFromScreen(camera);
  return EYES.flatMap((eye) => {
    const photoFromChart = compose(fromScreen, screenFromChart(projector, eye));
    return CORNERS.map(([x, y]) => distortPoint(camera, transfer(photoFromChart, { x: x * aspect, y })));
  });
}

const CORNERS = [
  [-0.5, -0.5],
  [0.5, -0.5],
  [0.5, 0.5],
  [-0.5, 0.5],
] as const;

/**
 * Zooms and turns the camera until the pictures take `share` of the photo's width and stand in its middle, `offset` of
 * the photo's size beside it. A picture too tall for that is framed by its height instead.
 */
export function framePicture(
  projector: Projector,
  aspect: number,
  camera: Camera,
  share: number,
  offset: Point = { x: 0, y: 0 },
): Camera {
  let framed = camera;
  for (let i = 0; i < 8; i++) {
    const { left, right, top, bottom } = boundsOf(pictureCorners(projector, aspect, framed));
    const zoom = Math.min(
      (share * camera.width_px) / (right - left),
      (Math.max(share, 0.9) * camera.height_px) / (bottom - top),
    );
    const centre = imageCentre(framed);
    // The screen point that now stands where the middle of the photograph should be moves into it.
    const aim = {
      x: (left + right) / 2 - (offset.x * camera.width_px) / zoom,
      y: (top + bottom) / 2 - (offset.y * camera.height_px) / zoom,
    };
    const screenFromPhoto = invert(photoFromScreen(framed));
    const toScreen = (p: Point) => transfer(screenFromPhoto, undistortPoint(framed, p));
    const now = toScreen(centre);
    const wanted = toScreen(aim);
    framed = {
      ...framed,
      focal_px: framed.focal_px * zoom,
      lookAt_ih: { x: framed.lookAt_ih.x + wanted.x - now.x, y: framed.lookAt_ih.y + wanted.y - now.y },
    };
  }
  return framed;
}

export function boundsOf(points: readonly Point[]) {
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
}

/** The exposure at which the brightest place of the stronger picture gets the linear light `peak`. */
export function exposureForPeak(scene: Scene, shot: Shot, peak: number): number {
  const { camera } = shot;
  const port = projectorPosition(scene.projector);
  const strongest = Math.max(
    ...EYES.map((eye) => scene.brightness[eye] * transmittance(scene.polarization, eye, shot.lens)),
  );
  const photoFromChart = compose(photoFromScreen(camera), screenFromChart(scene.projector, 'left'));
  let brightest = 0;
  for (let row = 0; row <= 20; row++) {
    for (let column = 0; column <= 40; column++) {
      const chartPoint = { x: (column / 40 - 0.5) * scene.aspect, y: row / 20 - 0.5 };
      const onScreen = transfer(screenFromChart(scene.projector, 'left'), chartPoint);
      const inPhoto = distortPoint(camera, transfer(photoFromChart, chartPoint));
      const light =
        screenGain(scene.surface, port, camera.position_ih, onScreen) * vignetting(camera, shot.vignetting, inPhoto);
      brightest = Math.max(brightest, light);
    }
  }
  return peak / (brightest * strongest);
}
