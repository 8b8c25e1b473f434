/** The causes in their order, each with its evidence and the check that separates it from the others. */
import type { ReadingCause } from '../../record/reading.ts';
import { wordCause, wordEvidence } from '../wording/causes.ts';
import { type Markup, markup } from './markup.ts';
import { drawSection } from './section.ts';

export function drawCauses(causes: readonly ReadingCause[]): Markup | null {
  if (causes.length === 0) return null;
  return drawSection(
    'Causes',
    'What can explain the findings, in the order in which to look, each with the check that tells it from the others',
    markup`<ol class="causes">${causes.map(drawCause)}</ol>`,
  );
}

function drawCause(cause: ReadingCause): Markup {
  const evidence = cause.evidence.map(wordEvidence).filter((words) => words !== null);
  return markup`<li><b>${wordCause(cause)}</b><p>${cause.check}</p>${evidence.length > 0 ? markup`<p class="note">Speaks for it: ${evidence.join('; ')}.</p>` : null}</li>`;
}
