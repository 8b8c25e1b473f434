/** The causes in their order, those together that cannot be told apart, and the one check to make first. */
import type { ReadingCause, ReadingNextCheck } from '../../record/reading.ts';
import {
  type AnsweredCheck,
  type CauseGroup,
  formatEvidence,
  formatProbability,
  groupCauses,
  introduceGroup,
  translateAnswer,
  translateCause,
  translateCheck,
} from '../../wording/causes.ts';
import { type Markup, markup } from './markup.ts';
import { drawSection } from './section.ts';

export function drawCauses(
  causes: readonly ReadingCause[],
  next: ReadingNextCheck | null = null,
  answered: readonly AnsweredCheck[] = [],
): Markup | null {
  if (causes.length === 0) return null;
  return drawSection(
    'Causes',
    'What can explain the findings, the likeliest first, each with the check that tells it from the others',
    markup`${drawAnswered(answered)}${next && markup`<p><b>Check this first:</b> ${next.check}</p>`}<ol class="causes">${groupCauses(causes).map(drawGroup)}</ol>`,
  );
}

function drawAnswered(answered: readonly AnsweredCheck[]): Markup | null {
  if (answered.length === 0) return null;
  return markup`<p>Reckoned with what checks have shown:</p><ul>${answered.map((given) => markup`<li>${translateCheck(given.check)} <b>${translateAnswer(given)}</b></li>`)}</ul>`;
}

function drawGroup({ causes, isUndecided }: CauseGroup<ReadingCause>): Markup {
  if (!isUndecided) return markup`<li>${drawCause(causes[0]!)}</li>`;
  return markup`<li><p>${introduceGroup()}</p><ul>${causes.map((cause) => markup`<li>${drawCause(cause)}</li>`)}</ul></li>`;
}

function drawCause(cause: ReadingCause): Markup {
  const evidence = cause.evidence.map(formatEvidence).filter((words) => words !== null);
  const chance = formatProbability(cause);
  return markup`<b>${translateCause(cause)}</b>${chance && markup` <span class="note">(${chance})</span>`}<p>${cause.check}</p>${cause.remedy === undefined ? null : markup`<p>If so: ${cause.remedy}</p>`}${evidence.length > 0 ? markup`<p class="note">Speaks for it: ${evidence.join('; ')}.</p>` : null}`;
}
