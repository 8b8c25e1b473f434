/** A verdict as a shape that reads without colour, with its word: ring = within, triangle = outside, half diamond = undecided. */
import { translate } from '../../../wording/translate.ts';
import './parts.css';

export type Verdict = 'within' | 'outside' | 'undecided';

const SHAPES = {
  within: <circle cx="10" cy="10" r="7.2" fill="none" stroke="currentColor" strokeWidth="2.4" />,
  outside: <path d="M10 1.5 19 18H1Z" fill="currentColor" />,
  undecided: (
    <>
      <path d="M10 1.5 18.5 10 10 18.5 1.5 10Z" fill="none" stroke="currentColor" strokeWidth="1.8" />
      <path d="M10 1.5V18.5L1.5 10Z" fill="currentColor" />
    </>
  ),
} as const;

/** The shape with its word; with `isShapeOnly` the word is only for screen readers. */
export function VerdictMark({ verdict, isShapeOnly }: { readonly verdict: Verdict; readonly isShapeOnly?: boolean }) {
  return (
    <span className={`part-verdict part-verdict-${verdict}`}>
      <svg viewBox="0 0 20 20" aria-hidden="true">
        {SHAPES[verdict]}
      </svg>
      <span className={isShapeOnly ? 'unseen' : undefined}>{translate(`parts.${verdict}`)}</span>
    </span>
  );
}
