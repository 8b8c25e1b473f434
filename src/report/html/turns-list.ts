/** What to turn, in order, each with its dial; then what is left afterwards, and what no adjustment cures. */
import type { MeasuredReading, ReadingTrialTurn, ReadingTurn } from '../../record/reading.ts';
import { REPORTED_FIELDS } from '../../record/term-fields.ts';
import {
  capitalise,
  formatHowFar,
  formatIncurableTerm,
  formatMotion,
  isByHand,
  listTurnNotes,
  shortenLabel,
  translateIncurable,
} from '../../wording/turns.ts';
import { decimalsForUncertainty } from '../../wording/numbers.ts';
import { formatTerm, nameTerm, unitOfTerm } from '../../wording/terms.ts';
import { drawDial, drawHandDial } from './dial.ts';
import { type Markup, markup } from './markup.ts';
import { drawSection } from './section.ts';

export function drawTurns(reading: MeasuredReading): Markup | null {
  const { advice, turns, trial_turns, image_motion } = reading;
  if (advice === 'motion-only') {
    return drawSection(
      'Where the pictures must go',
      'No adjustment of this house is described; these movements bring the pictures together.',
      markup`<ul>${image_motion.map((motion) => markup`<li>${formatMotion(motion)}</li>`)}</ul>`,
    );
  }
  return markup`${turns.length === 0 ? null : drawSection('Turns', 'In this order. Photograph again after the last one.', markup`<ol class="turns">${turns.map((turn) => drawTurn(turn, listTurnNotes(turn)))}</ol>`, drawAfterwards(reading))}${trial_turns.length === 0 ? null : drawSection('Trial turns', 'What these adjustments do is not known yet. Make one trial turn at a time and photograph after each.', markup`<ol class="turns">${trial_turns.map((turn) => drawTurn(turn, []))}</ol>`)}`;
}

function drawTurn(turn: ReadingTurn | ReadingTrialTurn, notes: readonly string[]): Markup {
  const howFar = formatHowFar(turn);
  const name = shortenLabel(turn.label);
  const place = turn.label.slice(name.length).replace(/^[\s,;(]+|[\s)]+$/g, '');
  const signed = turn.direction === 'clockwise' ? turn.turns : -turn.turns;
  const dial = isByHand(turn) ? drawHandDial(signed, howFar) : drawDial(signed, howFar);
  return markup`<li>${dial}<div><p class="what">${turn.order}. ${capitalise(name)}</p><p class="how">${howFar}</p>${place === '' ? null : markup`<p class="note">${capitalise(place)}.</p>`}${notes.map((note) => markup`<p class="note">${note}</p>`)}</div></li>`;
}

/** Only the terms that the turns change by more than their uncertainty. */
function drawAfterwards({ misalignment, predicted_after }: MeasuredReading): Markup {
  const changed = REPORTED_FIELDS.filter(
    (field) => Math.abs(predicted_after[field] - misalignment[field].value) > misalignment[field].u,
  );
  return markup`<div class="scroll"><table class="after"><thead><tr><th scope="col">Left afterwards</th><th scope="col" class="n">Now</th><th scope="col" class="n">After these turns</th></tr></thead><tbody>${changed.map(
    (field) => {
      const { value, u } = misalignment[field];
      const decimals = decimalsForUncertainty(u);
      const unit = unitOfTerm(field) === '°' ? '°' : ' %';
      return markup`<tr><th scope="row">${nameTerm(field)}</th><td class="n">${formatTerm(field, value, decimals)}${unit}</td><td class="n">${formatTerm(field, predicted_after[field], decimals)}${unit}</td></tr>`;
    },
  )}</tbody></table></div><p class="note">Everything else stays as it is.</p>`;
}

export function drawIncurable({ incurable }: MeasuredReading): Markup | null {
  if (incurable.length === 0) return null;
  return drawSection(
    'No screw cures this',
    'What remains whatever is turned, and where to look instead',
    markup`<ul>${incurable.map((item) => markup`<li><b>${formatIncurableTerm(item)}</b><ul>${item.reasons.map((reason) => markup`<li>${translateIncurable(reason)}</li>`)}</ul></li>`)}</ul>`,
  );
}
