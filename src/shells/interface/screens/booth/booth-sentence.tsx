/** One sentence as large as it fits, with the shape of its verdict. */
import type { ReactNode } from 'react';
import { fitSentence_px, type Window } from './letter-size.ts';

export interface BoothSentenceProps {
  readonly window: Window;
  readonly sentence: string;
  /** What to do; it shares the room with the sentence. */
  readonly addition?: string;
  readonly verdict?: 'within' | 'outside' | 'undecided' | 'refused';
  readonly children?: ReactNode;
}

export function BoothSentence({ window, sentence, addition, verdict, children }: BoothSentenceProps) {
  const size = fitSentence_px(sentence.length + (addition?.length ?? 0), window);
  return (
    <section className="booth-sentence" role="status" style={{ fontSize: `${size}px` }}>
      {verdict && <VerdictShape verdict={verdict} />}
      <h1>{sentence}</h1>
      {addition !== undefined && <p className="booth-addition">{addition}</p>}
      {children}
    </section>
  );
}

const SHAPES = {
  within: <circle cx="10" cy="10" r="7.8" fill="none" stroke="currentColor" strokeWidth="2.4" />,
  outside: <path d="M10 1.5 19 18H1Z" fill="currentColor" />,
  undecided: (
    <>
      <path d="M10 1.5 18.5 10 10 18.5 1.5 10Z" fill="none" stroke="currentColor" strokeWidth="1.8" />
      <path d="M10 1.5V18.5L1.5 10Z" fill="currentColor" />
    </>
  ),
  refused: <path d="M3 3 17 17M17 3 3 17" fill="none" stroke="currentColor" strokeWidth="3" />,
} as const;

/** The words say the same; the shape is seen first. */
function VerdictShape({ verdict }: { readonly verdict: keyof typeof SHAPES }) {
  return (
    <svg className={`booth-shape booth-shape-${verdict}`} viewBox="0 0 20 20" aria-hidden="true">
      {SHAPES[verdict]}
    </svg>
  );
}
