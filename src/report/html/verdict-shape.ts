/** A verdict as a shape that reads without colour: ring = within, filled triangle = outside, half-filled diamond = undecided. */
import type { ReadingFinding } from '../../record/reading.ts';
import { formatVerdict, type Verdict } from '../../wording/findings.ts';
import { type Markup, markup } from './markup.ts';

const DRAWINGS: Readonly<Record<Verdict, Markup>> = {
  within: markup`<circle cx="10" cy="10" r="7.2" fill="none" stroke="currentColor" stroke-width="2.4"/>`,
  outside: markup`<path d="M10 1.5 19 18H1Z" fill="currentColor"/>`,
  undecided: markup`<path d="M10 1.5 18.5 10 10 18.5 1.5 10Z" fill="none" stroke="currentColor" stroke-width="1.8"/><path d="M10 1.5V18.5L1.5 10Z" fill="currentColor"/>`,
};

export function drawVerdictShape(verdict: Verdict): Markup {
  return markup`<svg class="shape" viewBox="0 0 20 20" aria-hidden="true">${DRAWINGS[verdict]}</svg>`;
}

export function drawVerdict(finding: Pick<ReadingFinding, 'code' | 'verdict'>): Markup {
  return markup`<span class="verdict">${drawVerdictShape(finding.verdict)}${formatVerdict(finding)}</span>`;
}
