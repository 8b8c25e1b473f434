/** The photographs through the glasses: which eye each lens sees, how much leaks, what moved, which copies there are. */
import type { Eye } from '../../kernel/eye.ts';
import type { Point } from '../../kernel/point.ts';
import type { Refusal } from '../../kernel/refusal.ts';
import type { PhotographRole } from '../../record/roles.ts';
import type { Chart } from '../../target/chart.ts';
import type { ExaminedPhotograph } from '../shot/examine-shot.ts';
import { compareClosing, joinClosing } from './compare-closing.ts';
import { type ComparedShots, compareShots, type ComparisonOptions } from './compare-shots.ts';
import { findStrays, type Stray } from './find-strays.ts';

export interface ComparedLenses extends ComparedShots {
  /** The photographs that were compared. */
  readonly photographs: Readonly<Record<Eye, ExaminedPhotograph>>;
  readonly strays: readonly Stray[];
}

export type LensesRefused = {
  readonly outcome: 'refused';
  readonly refusal: Refusal<string>;
  readonly role: PhotographRole | null;
};

export interface LensOptions extends ComparisonOptions {
  readonly closingWander_px?: Point | undefined;
}

/** The first photograph through each lens; undefined where none was taken through the glasses. */
export function compareLenses(
  photographs: readonly ExaminedPhotograph[],
  chart: Chart,
  { closingWander_px, ...options }: LensOptions = {},
): ComparedLenses | LensesRefused | undefined {
  const first = (role: PhotographRole) => photographs.find((photograph) => photograph.role === role);
  const [left, right, closing] = [first('left-lens'), first('right-lens'), first('closing')];
  if (!left || !right) return undefined;
  const shots = { left: left.shot, right: right.shot };
  const pair = compareShots(shots, chart, options);
  if (pair.outcome === 'refused') return { outcome: 'refused', refusal: pair, role: null };
  const closed = closing && joinClosing(pair, compareClosing(left.shot, closing.shot, closingWander_px));
  if (closed?.outcome === 'refused') return { outcome: 'refused', refusal: closed, role: 'closing' };
  const compared = closed ?? pair;
  const strays = findStrays(shots, compared.observations, compared.views, chart);
  return { ...compared, photographs: { left, right }, strays };
}
