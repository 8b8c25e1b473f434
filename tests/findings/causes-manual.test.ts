/** The page on causes against the table: every cause and check is there, with the table's own numbers and the report's own words. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { CauseRow } from '../../src/findings/cause-row.ts';
import { CHECK_ROWS, type CheckRow } from '../../src/findings/check-table.ts';
import { CAUSE_ROWS } from '../../src/findings/decision-table.ts';
import { wordRemedy } from '../../src/report/wording/causes.ts';
import { listAnswers, wordCheck } from '../../src/report/wording/checks.ts';

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
  return `| \`${code}\` | ${PLACES[effort]} | ${wordCheck(code)} | ${answers.map((answer) => words.get(answer)).join('; ')} |`;
}

describe('the page on causes', () => {
  it.each(CAUSE_ROWS)('$code: heading, remedy, odds and check as in the table', (row) => {
    expect(page).toContain(`\n### \`${row.code}\`\n`);
    expect(flat).toContain(`**Do.** ${wordRemedy(row.code)}`);
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
    expect([...page.matchAll(/^\| `([a-z-]+)` \|/gm)]).toHaveLength(CHECK_ROWS.length);
  });
});
