/**
 * What masking did between two readings: whether each stray copy went, and whether each picture kept its light.
 *
 *   kept = (strength after / exposure after) / (strength before / exposure before)
 *
 * Where a file does not tell its exposure, the pictures are compared with each other:
 *
 *   kept of one eye = (its strength / the other's) after over (its strength / the other's) before
 *
 * which shows a mask that cuts into one path, and not one that cuts into both alike. A picture is darker, or a stray weaker,
 * where the change is more than two of its standard uncertainties.
 */
import { EYES, type Eye, otherEye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { LightChange, Masking, StrayChange } from '../record/comparison.ts';
import type { MeasuredReading, PictureLight, ReadingStray } from '../record/reading.ts';

/** Copies of one eye's picture that stand this near to each other are the same one, ih: a mask does not move it. */
const SAME_PLACE_IH = 0.05;
/** How alike two exposures by one setting are, with what a lamp drifts meanwhile; and two within one pair. Assumptions of ours. */
const REPEAT_U = { exposure: 0.03, 'other-picture': 0.02 } as const;

type Compared = Pick<MeasuredReading, 'strays' | 'eyes'>;

/** Null where neither reading holds a stray. */
export function compareMasking(before: Compared, after: Compared): Masking | null {
  const [old, now] = [before.strays ?? [], after.strays ?? []];
  if (old.length === 0 && now.length === 0) return null;
  const found = old.map((stray) => [stray, now.find((other) => isSame(stray, other))] as const);
  const fresh = now.filter((stray) => !found.some(([, other]) => other === stray));
  return {
    strays: [...found.map(([stray, later]) => compareStray(stray, later)), ...fresh.map(describeNew)],
    light: EYES.map((eye) => compareLight(eye, before, after)),
  };
}

function isSame(a: ReadingStray, b: ReadingStray): boolean {
  const [dx, dy] = [a.offset_ih[0] - b.offset_ih[0], a.offset_ih[1] - b.offset_ih[1]];
  return a.eye === b.eye && Math.hypot(dx, dy) < SAME_PLACE_IH;
}

function compareStray({ eye, side, strength_pct: was }: ReadingStray, later: ReadingStray | undefined): StrayChange {
  const common = { eye, side, before_pct: was };
  if (!later) return { ...common, after_pct: null, verdict: 'gone' };
  const is = later.strength_pct;
  const change = is.value - was.value;
  const isChanged = Math.abs(change) > 2 * Math.hypot(is.u, was.u);
  return { ...common, after_pct: is, verdict: isChanged ? (change < 0 ? 'weaker' : 'stronger') : 'same' };
}

function describeNew({ eye, side, strength_pct }: ReadingStray): StrayChange {
  return { eye, side, before_pct: null, after_pct: strength_pct, verdict: 'new' };
}

function compareLight(eye: Eye, before: Compared, after: Compared): LightChange {
  const of = ({ eyes: { light } }: Compared, which: Eye): PictureLight | undefined => light?.[`${which}_picture`];
  const [was, is] = [of(before, eye), of(after, eye)];
  const isExposed = (light: PictureLight | undefined) => typeof light?.exposure === 'number';
  const against = isExposed(was) && isExposed(is) ? 'exposure' : 'other-picture';
  const ratio =
    against === 'exposure'
      ? divide(perExposure(is!), perExposure(was!))
      : divide(overOther(is, of(after, otherEye(eye))), overOther(was, of(before, otherEye(eye))));
  if (!ratio) return { eye, kept_pct: null, against, verdict: 'unknown' };
  const u = Math.hypot(ratio.u, REPEAT_U[against] * ratio.value);
  const isChanged = Math.abs(ratio.value - 1) > 2 * u;
  const verdict = isChanged ? (ratio.value < 1 ? 'darker' : 'brighter') : 'kept';
  return { eye, kept_pct: { value: 100 * ratio.value, u: 100 * u }, against, verdict };
}

function perExposure({ strength_pct: { value, u }, exposure }: PictureLight): Measured {
  return { value: value / exposure!, u: u / exposure! };
}

function overOther(own: PictureLight | undefined, other: PictureLight | undefined): Measured | undefined {
  return own && other && divide(own.strength_pct, other.strength_pct);
}

function divide(a: Measured | undefined, b: Measured | undefined): Measured | undefined {
  if (!a || !b || !(a.value > 0) || !(b.value > 0)) return undefined;
  const value = a.value / b.value;
  return { value, u: value * Math.hypot(a.u / a.value, b.u / b.value) };
}
