/** How long the bars of a budget are: what is left behind each step, and what the step took, in parts of the drawing's width. */
import type { RecordedBudget } from '../../../../../record/light-budget.ts';

export interface Bar {
  /** 0 to 1 of the drawing's width. */
  readonly left: number;
  /** What the step took away, or added where it is negative. */
  readonly taken: number;
}

export interface Waterfall {
  readonly start: number;
  readonly steps: readonly Bar[];
  /** Ends of the 95 % interval of the light at the eye. */
  readonly interval: readonly [number, number];
  /** Where the least light that is asked at the eye stands. */
  readonly asked: number | null;
}

export function layOutWaterfall({ start, steps, at_eye, findings }: RecordedBudget): Waterfall {
  const most = Math.max(start.cd_m2.value, ...steps.map(({ after }) => after.cd_m2.value));
  const part = (cd_m2: number) => Math.min(1, Math.max(0, cd_m2 / most));
  const before = [start, ...steps.map(({ after }) => after)].map(({ cd_m2 }) => part(cd_m2.value));
  const { value, u } = at_eye.cd_m2;
  const limit = findings.find(({ code }) => code === 'at-the-eye')?.limit;
  return {
    start: before[0]!,
    steps: steps.map((_, i) => ({ left: before[i + 1]!, taken: before[i]! - before[i + 1]! })),
    interval: [part(value - 2 * u), part(value + 2 * u)],
    asked: limit === undefined || limit > most ? null : part(limit),
  };
}
