/**
 * A verdict as a shape that reads without colour: ring = within, ring that is open below = geometry alone within, filled
 * triangle = outside, half-filled diamond = undecided.
 */
import type { TermChange } from '../record/comparison.ts';
import type { Drift } from '../record/trend.ts';
import type { OverallVerdict } from '../record/values.ts';
import { nameDrift, translateChange } from '../wording/comparison.ts';
import { translate } from '../wording/translate.ts';

const SHAPES = {
  within: <circle cx="10" cy="10" r="7.2" fill="none" stroke="currentColor" strokeWidth="2.4" />,
  'geometry-within': <path d="M5.4 15.5A7.2 7.2 0 1 1 14.6 15.5" fill="none" stroke="currentColor" strokeWidth="2.4" />,
  outside: <path d="M10 1.5 19 18H1Z" fill="currentColor" />,
  undecided: (
    <>
      <path d="M10 1.5 18.5 10 10 18.5 1.5 10Z" fill="none" stroke="currentColor" strokeWidth="1.8" />
      <path d="M10 1.5V18.5L1.5 10Z" fill="currentColor" />
    </>
  ),
} as const;

export interface VerdictMarkProps {
  readonly verdict: OverallVerdict;
  /** What stands beside the shape, where it is not the verdict's usual word. */
  readonly words?: string;
  /** The word is for screen readers only. */
  readonly isShapeOnly?: boolean;
}

export function VerdictMark({ verdict, words = translate(`parts.${verdict}`), isShapeOnly }: VerdictMarkProps) {
  return (
    <span className="verdict-mark">
      <VerdictShape verdict={verdict} />
      <span className={isShapeOnly ? 'unseen' : undefined}>{words}</span>
    </span>
  );
}

/** The shape alone, where its word stands beside it already. */
export function VerdictShape({ verdict }: Pick<VerdictMarkProps, 'verdict'>) {
  return (
    <svg
      className="verdict-shape"
      viewBox="0 0 20 20"
      aria-hidden="true"
      color={`var(--${verdict === 'geometry-within' ? 'within' : verdict})`}
    >
      {SHAPES[verdict]}
    </svg>
  );
}

const DRIFT_SHAPES = {
  alarm: <path d="M10 1.5 19 18H1Z" fill="currentColor" />,
  drifting: <path d="M2 15 13 6M7.5 5.2h6.3v6.3" fill="none" stroke="currentColor" strokeWidth="2.2" />,
  steady: <circle cx="10" cy="10" r="7.2" fill="none" stroke="currentColor" strokeWidth="2.4" />,
  'too-few': <path d="M3 10h3M8.5 10h3M14 10h3" stroke="currentColor" strokeWidth="2.4" />,
} as const;
const DRIFT_COLOURS = {
  alarm: 'var(--outside)',
  drifting: 'var(--undecided)',
  steady: 'var(--within)',
  'too-few': 'var(--soft)',
} as const;

/** What a row of readings tells: an alarm, a drift, nothing, too little. */
export function DriftMark({ drift }: { readonly drift: Drift }) {
  return (
    <span className="verdict-mark">
      <svg className="verdict-shape" viewBox="0 0 20 20" aria-hidden="true" color={DRIFT_COLOURS[drift.verdict]}>
        {DRIFT_SHAPES[drift.verdict]}
      </svg>
      <span>{nameDrift(drift)}</span>
    </span>
  );
}

const CHANGE_SHAPES = {
  better: 'M2 17h16M10 2v11M5.5 8.5 10 13.2l4.5-4.7',
  worse: 'M2 17h16M10 14V3M5.5 7.5 10 2.8l4.5 4.7',
  minor: 'M4 10h12',
  same: 'M4 10h12',
} as const;

/** How a figure changed: an arrow that comes nearer to a line, or goes away from it. */
export function ChangeMark({ term }: { readonly term: TermChange }) {
  return (
    <span className="verdict-mark">
      <svg className="verdict-shape" viewBox="0 0 20 20" aria-hidden="true">
        <path d={CHANGE_SHAPES[term.verdict]} fill="none" stroke="currentColor" strokeWidth="2.2" />
      </svg>
      <span>{translateChange(term)}</span>
    </span>
  );
}
