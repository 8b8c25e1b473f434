/**
 * How even the light of a simulated picture is, exactly: what each place sends towards the camera over what the centre sends.
 *
 *   light(p) = sum over the pictures of  brightness * gain(p) * passage(p)
 *
 * Places are picture coordinates; sides and corners lie 5 % of width and height inside the edges. What heads and cut corners
 * hide counts as if they were not there, and the camera's own lens counts for nothing.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import { transfer } from '../kernel/homography.ts';
import type { Point } from '../kernel/point.ts';
import { screenGain } from './light.ts';
import { depolarizationAt, passage } from './polarization.ts';
import { projectorPosition, screenFromChart } from './projector.ts';
import type { Scene, Shot } from './scene.ts';

const REACH = 0.45;
/** In parts of the picture's width and height from its centre; y up. */
const PLACES = {
  centre: [0, 0],
  left: [-REACH, 0],
  right: [REACH, 0],
  top: [0, REACH],
  bottom: [0, -REACH],
  'top-left': [-REACH, REACH],
  'top-right': [REACH, REACH],
  'bottom-left': [-REACH, -REACH],
  'bottom-right': [REACH, -REACH],
} as const;
type Place = keyof typeof PLACES;

export type TrueEvenness = Readonly<Record<Place, { readonly value: number }>>;

/** Percent of the centre, of one picture, or of both together where `pictures` names both. */
export function trueEvenness_pct(scene: Scene, shot: Shot, pictures: readonly Eye[] = EYES): TrueEvenness {
  const centre = lightOf(scene, shot, pictures, { x: 0, y: 0 });
  const places = Object.entries(PLACES).map(([place, [x, y]]) => {
    const light = lightOf(scene, shot, pictures, { x: x * scene.aspect, y });
    return [place, { value: (100 * light) / centre }];
  });
  return Object.fromEntries(places) as TrueEvenness;
}

function lightOf(scene: Scene, shot: Shot, pictures: readonly Eye[], at: Point): number {
  const { projector, polarization, surface, brightness } = scene;
  const port = projectorPosition(projector);
  return pictures.reduce((sum, eye) => {
    const onScreen = transfer(screenFromChart(projector, eye, shot.weave_ih), at);
    const passed = passage(polarization, eye, shot.lens, depolarizationAt(polarization, onScreen));
    return sum + brightness[eye] * passed * screenGain(surface, port, shot.camera.position_ih, onScreen);
  }, 0);
}
