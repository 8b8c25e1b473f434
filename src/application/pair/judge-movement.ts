/**
 * What moved between two photographs, film or camera, from each eye's picture, once strong and once a ghost: a ghost
 * that stands elsewhere than the strong picture of the other photograph has moved.
 */
import { checkSteadiness, type Displacement, type FollowedSteadiness } from '../../geometry/check-steadiness.ts';
import type { ChartDisplacement } from '../../geometry/movement-process.ts';
import { EYES, type Eye, otherEye } from '../../kernel/eye.ts';
import type { Point } from '../../kernel/point.ts';
import { projectDerivative } from '../../kernel/view.ts';
import { compareStrength } from '../../light/compare-pictures.ts';
import type { KnownViews, PictureObservation, PictureObservations } from './observe-pictures.ts';

/** A leak must stand out so many times its uncertainty before its place means anything. */
const MIN_LEAK_SIGNIFICANCE = 8;
/**
 * More than film can do, as a part of the picture height: 0.05 mm on a stacked picture 8.9 mm high. A fluctuation of
 * 0.24 % of a 35 mm picture's width is the largest that Frielinghaus allows for any gauge (fktg.org, abstract). Through
 * one lens of the glasses, whatever moves farther between two photographs is a camera.
 */
export const MAX_FILM_MOVEMENT_IH = 5.6e-3;
/** The wedges of two lenses of the glasses shift the view by a quarter of a degree at most, seen from 3.4 heights away. */
const MAX_WEDGE_IH = 0.015;
/** What film and glasses can do together: through different lenses, what moves farther is refused. */
export const MAX_MOVEMENT_IH = MAX_FILM_MOVEMENT_IH + MAX_WEDGE_IH;
/**
 * Film does not grow, and the waves of a filter make little of it (half a pixel over 500): from this size on a camera
 * zoomed or was moved forward, where that is so many uncertainties clear. What is less is measured and taken out.
 */
export const MAX_ZOOM = { size: 1e-3, uncertainties: 5 } as const;

/** From the displacements of both pictures' marks; undefined where no leak is strong enough to tell. */
export function steadinessOf(observations: PictureObservations, wander_px?: Point): FollowedSteadiness | undefined {
  return checkSteadiness(
    EYES.flatMap((eye) => displacementsOf(observations, eye)),
    wander_px,
  );
}

/** The same with where each mark stands on the chart, and how the photograph shows the chart there. */
export function chartDisplacements(observations: PictureObservations, views: KnownViews): ChartDisplacement[] {
  return EYES.flatMap((eye) =>
    displacementsOf(observations, eye).map((displacement) => ({
      ...displacement,
      slope: projectDerivative(views[eye], displacement.chart),
    })),
  );
}

/** Displacements of one eye's marks from the photograph through the left lens to that through the right lens. */
function displacementsOf(observations: PictureObservations, eye: Eye): (Displacement & { readonly chart: Point })[] {
  const first = placesOf(observations.left, eye);
  const second = placesOf(observations.right, eye);
  return [...first].flatMap(([id, a]) => {
    const b = second.get(id);
    if (!b) return [];
    return [
      {
        at: a.centre,
        chart: a.chart,
        shift: { x: b.centre.x - a.centre.x, y: b.centre.y - a.centre.y },
        u: { x: Math.hypot(a.u.x, b.u.x), y: Math.hypot(a.u.y, b.u.y) },
      },
    ];
  });
}

type Placed = Pick<Displacement, 'u'> & { readonly centre: Point; readonly chart: Point };

/** Where each mark of a picture is seen, px; empty where it is too faint to have a place. */
function placesOf(observed: Readonly<Record<Eye, PictureObservation>>, eye: Eye): Map<string, Placed> {
  const { marks, leak, strengths } = observed[eye];
  const places = new Map<string, Placed>();
  for (const { mark, centre, covariance } of marks) {
    places.set(mark.id, { centre, chart: mark, u: { x: Math.sqrt(covariance[0]), y: Math.sqrt(covariance[2]) } });
  }
  const { surface } = observed[otherEye(eye)];
  if (leak.length === 0 || !surface) return places;
  const ratio = compareStrength(strengths, surface, observed[eye].commonU);
  if (!(ratio.value > MIN_LEAK_SIGNIFICANCE * ratio.u)) return places;
  for (const [i, { mark, frame, moment, momentU }] of leak.entries()) {
    // One mark's own contrast is noise; what the leak as a whole says of it is not.
    const contrast = ratio.value * surface.strengthAt(strengths[i]!.at);
    places.set(mark.id, {
      chart: mark,
      centre: { x: frame.centre.x + moment.x / contrast, y: frame.centre.y + moment.y / contrast },
      u: { x: momentU.x / contrast, y: momentU.y / contrast },
    });
  }
  return places;
}
