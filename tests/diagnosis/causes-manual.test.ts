/** The page on causes against the table: every cause and check is there, with the table's own numbers and the report's own words. */
import { readFileSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { describe, expect, it } from 'vitest';
import type { CauseCode, CauseRow, LightRow } from '../../src/diagnosis/cause-row.ts';
import { answerLikelihoods, CHECK_ROWS, type CheckRow } from '../../src/diagnosis/choose-check.ts';
import { LIGHT_ROWS, SHAPE_ROWS } from '../../src/diagnosis/decision-table.ts';
import {
  changedLight,
  nodeAt,
  predictTransmittance,
  ratioAbove,
  spreadOf,
  TYPICAL_LIGHT,
} from '../../src/diagnosis/forecast-light.ts';
import { lightPosterior } from '../../src/diagnosis/posterior.ts';
import type { Eye } from '../../src/kernel/eye.ts';
import { CROSSTALK_SHAPES } from '../../src/light/survey-crosstalk.ts';
import { listAnswers, translateCheck, translateRemedy } from '../../src/wording/causes.ts';

const CAUSE_ROWS = [...LIGHT_ROWS, ...SHAPE_ROWS];

const page = readFileSync(new URL('../../src/manual/causes.md', import.meta.url), 'utf8');
const flat = page.replace(/\s+/g, ' ');

/** "Odds: 6 in 100, either eye (assumption: holders slip). Check: `turn-projector-polarizer`." */
function factsOf(row: CauseRow): string {
  const either = row.field === 'light' && row.eachEye ? ', for either eye together' : '';
  const basis = row.basis === 'assumption' ? 'our assumption' : 'common practice, no source';
  return `Odds: ${Number((100 * row.prior).toPrecision(2))} in 100${either} (${basis}: ${row.because}). Check: \`${row.check}\`.`;
}

const PLACES = ['', 'a seat', 'booth, hands off', 'hands at the machine', 'ladder'];

function rowOf({ code, effort, answers }: CheckRow): string {
  const words = new Map(listAnswers(code).map(({ answer, words }) => [answer, words]));
  return `| \`${code}\` | ${PLACES[effort]} | ${translateCheck(code)} | ${answers.map((answer) => words.get(answer)).join('; ')} |`;
}

describe('the page on causes', () => {
  it.each(CAUSE_ROWS)('$code: heading, remedy, odds and check as in the table', (row) => {
    expect(page).toContain(`\n### \`${row.code}\`\n`);
    expect(flat).toContain(`**Do.** ${translateRemedy(row.code)}`);
    expect(flat).toContain(factsOf(row));
  });

  it.each(CHECK_ROWS)('$code: the check as the report words it', (row) => {
    expect(flat).toContain(rowOf(row));
  });

  it('names no other causes and checks', () => {
    const headings = [...page.matchAll(/^### `([a-z-]+)`$/gm)].map((match) => match[1]);
    expect(headings.toSorted()).toEqual(
      [...CAUSE_ROWS.map(({ code }) => code), 'nothing-broken', 'stray-image'].toSorted(),
    );
    const checks = page.slice(page.indexOf('## The checks'));
    expect([...checks.matchAll(/^\| `([a-z-]+)` \|/gm)]).toHaveLength(CHECK_ROWS.length);
  });
});

describe('the table of what photographs cannot tell', () => {
  const section = page.slice(page.indexOf('## What photographs cannot tell'), page.indexOf('## The light:'));
  const codesIn = (cell: string) => [...cell.matchAll(/`([a-z-]+)`/g)].map((match) => match[1]!);
  const rows = [...section.matchAll(/^\| `([a-z-]+)` \|([^|]*)\|([^|]*)\|$/gm)].map(([, cause, partners, checks]) => ({
    cause: cause as CauseCode,
    partners: codesIn(partners!) as CauseCode[],
    checks: codesIn(checks!),
  }));
  const lightRowOf = (code: CauseCode) => LIGHT_ROWS.find((row) => row.code === code);

  it('has every cause once', () => {
    expect(rows.map(({ cause }) => cause).toSorted()).toEqual(CAUSE_ROWS.map(({ code }) => code).toSorted());
  });

  it.each(rows)('$cause: a check that it names has another answer for each partner', ({ cause, partners, checks }) => {
    const likeliest = (check: string, code: CauseCode) => {
      const chances = answerLikelihoods(CHECK_ROWS.find((row) => row.code === check)!, [code]);
      return chances.indexOf(Math.max(...chances));
    };
    for (const partner of partners) {
      const likelihoods = checks.filter((check) => likeliest(check, cause) !== likeliest(check, partner));
      expect(likelihoods, partner).not.toEqual([]);
    }
  });

  const seen = rows.filter(({ cause }) => lightRowOf(cause)?.ways.seen);
  it.each(seen)('$cause: its partners explain its photographs not ten times worse, and no others do', (row) => {
    expect(explainedNearlyAsWell(lightRowOf(row.cause)!)).toEqual(row.partners.toSorted());
  });

  it('the causes of shape that make the same shapes are those with the same spreads', () => {
    for (const { code, spread_pct } of SHAPE_ROWS) {
      const same = SHAPE_ROWS.filter((other) => other.code !== code && isDeepStrictEqual(other.spread_pct, spread_pct));
      expect(rows.find(({ cause }) => cause === code)!.partners).toEqual(same.map((other) => other.code));
    }
  });
});

/** Other single causes that explain what this one shows in the middle of its sizes, odds left aside. */
function explainedNearlyAsWell(row: LightRow): string[] {
  const { change } = row.changes[0]!;
  const spread = spreadOf(change);
  const state = changedLight(change, spread ? nodeAt(spread, 0.5).value : 0, 'left');
  const ratio = (lens: Eye) => {
    const [right, left] = [predictTransmittance(state, 'right', lens), predictTransmittance(state, 'left', lens)];
    const value = ratioAbove(2 * TYPICAL_LIGHT.floor, right, left);
    return { value, u: 0.02 * value };
  };
  const crosstalkShape = CROSSTALK_SHAPES.toSorted((a, b) => row.shapes[b] - row.shapes[a])[0]!;
  const weighed = lightPosterior({
    way: 'seen',
    ratios: { left: ratio('left'), right: ratio('right') },
    crosstalkShape,
    verticalOffset: { value: state.byHalfFrame ? HALF_FRAME_IH : 0.001, u: 1e-5 },
    halfFrameOffsets: [{ value: HALF_FRAME_IH, weight: 1 }],
  }).filter(({ faults }) => faults.length === 1);
  const likelihood = ({ faults, weight }: (typeof weighed)[number]) =>
    weight / (faults[0]!.row.prior / (faults[0]!.row.eachEye ? 2 : 1));
  const best = (code: CauseCode) =>
    Math.max(...weighed.filter(({ faults }) => faults[0]!.row.code === code).map(likelihood));
  return LIGHT_ROWS.map(({ code }) => code)
    .filter((code) => code !== row.code && best(code) > best(row.code) / 10)
    .toSorted();
}

/** 0.387 in between the pictures' centres. */
const HALF_FRAME_IH = 0.074;
