/** What rounds have shown of the adjustments, as sentences and as rows of a table. */
import type { ReadingLearning } from '../record/learned.ts';
import { TERM_FIELDS, type TermField } from '../record/term-fields.ts';
import { openTopic } from './catalogue.ts';
import messages from './en/learning.json' with { type: 'json' };
import { formatFigures } from './numbers.ts';
import { formatTerm, nameTerm, unitOfTerm } from './terms.ts';
import { formatTurnAmount, lowerFirst, shortenLabel } from './turns.ts';

const { translate, translateCode } = openTopic(messages);

type ColumnKey = Extract<keyof typeof messages, 'heading' | 'untried' | 'unknown' | `column.${string}`>;

/** Head, columns and fixed words of the table of what was learned. */
export const formatLearningColumn = (key: ColumnKey) => translate(key);

/** An explanation below this is not said as if it were so. */
const LIKELY = 0.8;

/** What the last round has shown, in one or two sentences. */
export function describeLearning(learning: ReadingLearning): string {
  const sentence = explainRound(learning);
  const { other_picture } = learning;
  return other_picture
    ? translate('other-picture', { sentence, adjustment: nameAdjustment(learning, other_picture) })
    : sentence;
}

function explainRound(learning: ReadingLearning): string {
  const [best, ...others] = learning.explanations;
  if (learning.outcome !== 'learned' || !best) return translate(`outcome.${learning.outcome}`);
  if (best.code === 'moves-the-other-way') {
    const same = [best, ...others].filter(({ code }) => code === best.code);
    const names = same.map(({ adjustment }) => nameAdjustment(learning, adjustment));
    if (names.length > 1) return translate('one-moves-the-other-way', { names: joinNames(names) });
  }
  const tried = learning.adjustments.filter(({ tried_turns }) => tried_turns > 0);
  const isFirst = best.adjustment === null && tried.length > 0 && tried.every((each) => each.stated_per_turn === null);
  if (isFirst && learning.rounds === 1) return translate('explanation.first-seen');
  const sentence = translateCode(`explanation.${best.code}`, {
    adjustment: nameAdjustment(learning, best.adjustment),
    noted: nameAdjustment(learning, best.noted),
  });
  const isSure = best.probability >= LIKELY || best.code === 'as-noted';
  return isSure ? sentence : translate('not-sure', { sentence, percent: formatFigures(100 * best.probability, 2) });
}

function joinNames(names: readonly string[]): string {
  return names.reduce((first, next) => translate('names', { first, next }));
}

function nameAdjustment({ adjustments }: ReadingLearning, id: string | null): string {
  const known = adjustments.find(({ adjustment }) => adjustment === id);
  return known ? lowerFirst(shortenLabel(known.label)) : (id ?? '');
}

export interface LearnedRow {
  readonly label: string;
  /** The term that it changes most; null where nothing is known of it. */
  readonly term: string | null;
  /** Per clockwise turn, with unit. */
  readonly stated: string | null;
  readonly learned: string | null;
  readonly backlash: string;
  readonly isTried: boolean;
}

/** One row for each adjustment: what the House says, and what was seen. */
export function listLearned({ adjustments }: ReadingLearning): LearnedRow[] {
  return adjustments.map(({ label, effect_per_turn, stated_per_turn, backlash_turns, tried_turns }) => {
    const field = TERM_FIELDS.reduce((a, b) =>
      sizeOf(effect_per_turn[b].value, b) > sizeOf(effect_per_turn[a].value, a) ? b : a,
    );
    const { value, u } = effect_per_turn[field];
    const isKnown = value !== 0;
    const unit = unitOfTerm(field);
    return {
      label: shortenLabel(label),
      term: isKnown ? nameTerm(field) : null,
      stated: stated_per_turn ? `${formatTerm(field, stated_per_turn[field] ?? 0, 2)} ${unit}` : null,
      learned: isKnown ? `${formatTerm(field, value, 2)} ± ${formatFigures(2 * u, 2)} ${unit}` : null,
      backlash: formatTurnAmount(backlash_turns.value),
      isTried: tried_turns > 0,
    };
  });
}

/** Degrees and percent side by side: a degree displaces the side of the picture by about two percent of its height. */
function sizeOf(value: number, field: TermField): number {
  return Math.abs(value) * (field === 'rotation_deg' ? 2 : 1);
}
