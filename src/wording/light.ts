/** Light in words: how even it is, how the eyes compare, and what is left of it at the eye. */
import type {
  EvennessPicture,
  EvennessRecord,
  RecordedLightFinding,
  UnwordedEvenness,
  UnwordedMeasuredEvenness,
} from '../record/evenness.ts';
import type { BudgetGain, BudgetStepRecord, RecordedBudget, UnwordedBudget } from '../record/light-budget.ts';
import type { LightChain } from '../record/light-chain.ts';
import type { LightPlace, LitPicture } from '../record/light-codes.ts';
import { openTopic } from './catalogue.ts';
import { chooseCautions, lampCaution } from './cautions.ts';
import messages from './en/light.json' with { type: 'json' };
import { decimalsForUncertainty, formatFigures, formatGiven, formatNumber } from './numbers.ts';
import { translateLightRefusal } from './refusals.ts';

const { has, keys, translate, translateCode } = openTopic(messages);

interface Measured {
  readonly value: number;
  readonly u: number;
}

/** "upper left corner", as the audience sees it. */
export function namePlace(place: LightPlace): string {
  return translate(`place.${place}`);
}

export function nameLitPicture(picture: LitPicture): string {
  return translate(`picture.${picture}`);
}

/** For columns of tables. */
export function shortenLitPicture(picture: LitPicture): string {
  return translate(`picture-short.${picture}`);
}

/** "14.2 ± 0.9 cd/m² (4.1 fL)": the 95 % interval. */
export function formatLuminance({ cd_m2, fL }: { readonly cd_m2: Measured; readonly fL: Measured }): string {
  const decimals = Math.min(2, decimalsForUncertainty(cd_m2.u));
  return translate('luminance', {
    value: formatNumber(cd_m2.value, decimals),
    doubt: cd_m2.u > 0 ? formatNumber(2 * cd_m2.u, decimals) : undefined,
    fL: formatFigures(fL.value, 2),
  });
}

/** "81.3 ± 1.2 %". */
export function formatPercent({ value, u }: Measured): string {
  if (!(u > 0)) return translate('percent', { value: formatNumber(value, 0) });
  const decimals = Math.min(1, decimalsForUncertainty(u));
  return translate('percent', { value: formatNumber(value, decimals), doubt: formatNumber(2 * u, decimals) });
}

export function nameLightFinding(code: RecordedLightFinding['code']): string {
  return translate(`finding.${code}`);
}

export function formatLightVerdict(verdict: RecordedLightFinding['verdict']): string {
  return translate(`verdict.${verdict}`);
}

/** "68 % (upper left corner), at least 75 %". */
export function formatLightFinding({ value, limit, side, unit, place, code }: RecordedLightFinding): string {
  return translate('found', {
    value: formatFigures(value, 2, 1),
    unit,
    place: code === 'edge-film' && place !== null ? namePlace(place) : undefined,
    side: side === 'at-least' ? 'least' : 'most',
    limit: formatGiven(limit),
  });
}

/** A source with the flag that it always carries. */
export function formatLightSource(source: string, basis: string): string {
  const key = `basis.${basis}`;
  const flag = has(key) ? translate(key) : null;
  return flag === null || source.includes(flag) ? source : translate('source', { source, flag });
}

const WORST_FIRST = { outside: 0, undecided: 1, within: 2 } as const;

/** The same limit for both eyes: the worse verdict, and then the one nearer to its limit. */
export function worstLightFinding(
  findings: readonly RecordedLightFinding[],
  code: RecordedLightFinding['code'],
): RecordedLightFinding | undefined {
  const distance = ({ value, limit, side }: RecordedLightFinding) =>
    side === 'at-least' ? value - limit : limit - value;
  return findings
    .filter((finding) => finding.code === code)
    .toSorted((a, b) => WORST_FIRST[a.verdict] - WORST_FIRST[b.verdict] || distance(a) - distance(b))[0];
}

const NOTE = 'note.';
export const EVENNESS_NOTE_CODES: readonly string[] = keys
  .filter((key) => key.startsWith(NOTE) && !key.endsWith('.remedy'))
  .map((key) => key.slice(NOTE.length));

/** Throws RangeError on a code without wording: that is a fault of the program. */
export function translateEvenness(unworded: UnwordedEvenness): EvennessRecord {
  if (unworded.outcome === 'refused') {
    const { code, facts, shot, file } = unworded.refusal;
    return { ...unworded, refusal: { code, ...translateLightRefusal(code, facts, shot), shot, file, facts } };
  }
  return {
    ...unworded,
    sentence: composeEvennessSentence(unworded),
    notes: unworded.notes.map(({ code }) => ({ code, ...translateEvennessNote(code) })),
    cautions: [...chooseCautions({ atProjector: true, atHeight: false }), lampCaution()],
  };
}

export function translateEvennessNote(code: string): { readonly message: string; readonly remedy: string | null } {
  const remedy = `note.${code}.remedy`;
  return { message: translateCode(`note.${code}`), remedy: has(remedy) ? translate(remedy) : null };
}

/** The darkest edge first, then the eyes where they differ by more than what is asked, or surely by 3 %. */
function composeEvennessSentence({ findings, pictures, balance, vignetting }: UnwordedMeasuredEvenness): string {
  const edge = worstLightFinding(findings, 'edge-film')!;
  const part = translate('part', {
    place: namePlace(edge.place!),
    picture: pictures.length > 1 && edge.picture !== null ? nameLitPicture(edge.picture) : undefined,
    percent: formatFigures(edge.value),
  });
  const evenness =
    vignetting.method === 'assumed'
      ? translate('even.not-known')
      : translate(`even.${edge.verdict}`, { part, limit: edge.limit });
  return balance ? `${evenness} ${formatBalance(balance.right_over_left_pct, findings)}` : evenness;
}

/** From here on a difference between the eyes is worth the sentence, where it is sure: percent. */
const MIN_TOLD_DIFFERENCE = 3;

function formatBalance({ value, u }: Measured, findings: UnwordedMeasuredEvenness['findings']): string {
  const off = value - 100;
  if (Math.abs(off) < MIN_TOLD_DIFFERENCE || Math.abs(off) < 2 * u) return translate('balance.same');
  return translate('balance', {
    darker: off < 0 ? 'right' : 'left',
    share: formatFigures(off < 0 ? value : 10_000 / value),
    verdict: worstLightFinding(findings, 'balance-comfort')?.verdict,
  });
}

/** Nearer than this to the centre a hot spot stands in it. */
const IN_THE_CENTRE_IH = 0.03;
const SURE_DEVIATIONS = 2;

/** "112 % of the centre’s light, 0.31 picture heights up and to the right of it". */
export function formatHotSpot({
  of_centre_pct,
  distance_ih,
  direction_deg,
  significance,
  u_ih,
}: EvennessPicture['hot_spot']): string {
  if (distance_ih < IN_THE_CENTRE_IH || significance < SURE_DEVIATIONS) return translate('hot-spot.centre');
  return translate('hot-spot', {
    percent: formatNumber(of_centre_pct.value, 0),
    distance: formatFigures(distance_ih),
    direction: translateCode(`direction.${(Math.round(direction_deg / 45) + 8) % 8}`),
    edge: u_ih === null ? 'yes' : 'no',
  });
}

/** Evenness in a few sentences, for where misalignment is what is asked for: verdict, darkest places, why no more is known. */
export function summariseLight(record: EvennessRecord): readonly string[] {
  if (record.outcome === 'refused') return [translate('not-measured', { message: record.refusal.message })];
  const assumed = record.notes.find(({ code }) => code === 'vignetting-assumed');
  return [
    record.sentence,
    ...(assumed ? [] : record.pictures).map(({ picture, darkest }) =>
      translate('darkest', {
        picture: nameLitPicture(picture),
        place: namePlace(darkest.place),
        percent: formatPercent(darkest),
      }),
    ),
    ...(assumed?.remedy ? [assumed.remedy] : []),
  ];
}

/** The house's own name for it, where it has one. */
export function nameBudgetStep({ code, label }: Pick<BudgetStepRecord, 'code' | 'label'>): string {
  return label ?? translate(`step.${code}`);
}

export function formatEffort(effort: BudgetGain['effort']): string {
  return translate(`effort.${effort}`);
}

/** "Attachment, clean it: 8 % more light, 6.6 cd/m² at the eye". */
export function formatGain(gain: BudgetGain): string {
  return translate('gain', {
    step: nameBudgetStep(gain),
    effort: formatEffort(gain.effort),
    more: formatFigures(100 * (gain.gain.value - 1), 2, 0),
    luminance: formatLuminance(gain.at_eye),
  });
}

/** A chain made of usual steps: where each factor comes from stands in it in words, to be read and edited. */
export function translateChain(chain: LightChain): LightChain {
  const tell = (code: string, what: 'source' | 'assumption', text: string) => {
    const key = `usual.${code}.${what}`;
    return text === 'usual' && has(key) ? translate(key) : text;
  };
  return {
    ...chain,
    steps: chain.steps.map((step) => ({
      ...step,
      source: tell(step.code, 'source', step.source),
      ...(step.improvement && {
        improvement: {
          ...step.improvement,
          assumption: tell(step.code, 'assumption', step.improvement.assumption),
        },
      }),
    })),
  };
}

export function translateBudget(budget: UnwordedBudget): RecordedBudget {
  return {
    ...budget,
    sentence: composeBudgetSentence(budget),
    cautions: [...chooseCautions({ atProjector: true, atHeight: false }), lampCaution()],
  };
}

function composeBudgetSentence({ at_eye, passed_pct, findings, gains }: UnwordedBudget): string {
  const left = translate('budget', {
    luminance: formatLuminance(at_eye),
    passed: formatFigures(passed_pct.value, 2),
    verdict: findings.find(({ code }) => code === 'at-the-eye')?.verdict,
  });
  const [best] = gains;
  if (!best) return left;
  const advice = translate('budget.advice', {
    step: nameBudgetStep(best).toLowerCase(),
    effort: formatEffort(best.effort),
    more: formatFigures(100 * (best.gain.value - 1), 2, 0),
  });
  return `${left} ${advice}`;
}
