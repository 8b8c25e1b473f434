/** The houses as the manual tables them: a row for each condition, three ways of photographing it beside each other. */
import { type HouseFigures, summariseHouses } from './house-figures.ts';
import type { HouseResult } from './measure-house.ts';

const HEAD = [
  'condition',
  'pair: measured',
  'error',
  'terms',
  'worst',
  'wrong',
  'one bare: measured',
  'error',
  'terms',
  'worst',
  'wrong',
  'three bare: error',
  'terms',
  'worst',
  'wrong',
] as const;

/** Of results with an exact print, or of those with one that errs (`one` then). Each of three photographs counts as one alone, too. */
export function tabulateForManual(conditions: readonly string[], results: readonly HouseResult[]): string {
  const rowOf = (name: string, own: readonly HouseResult[]): string[][] => {
    if (own.length === 0) return [];
    const three = own.filter(({ taken }) => taken === 'three');
    const each = three.flatMap((result) => result.alone.map((together): HouseResult => ({ ...result, together })));
    const pair = summariseHouses(own.filter(({ taken }) => taken === 'pair'));
    const one = summariseHouses([...each, ...own.filter(({ taken }) => taken === 'one')]);
    const [, ...together] = cells(summariseHouses(three));
    return [[name, ...cells(pair), ...cells(one), ...together]];
  };
  const rows = conditions.flatMap((name) =>
    rowOf(
      name,
      results.filter(({ condition }) => condition === name),
    ),
  );
  rows.push(...rowOf('all', results));
  const line = (parts: readonly string[]) => `| ${parts.join(' | ')} |`;
  return [line(HEAD), line(HEAD.map(() => '---')), ...rows.map(line)].join('\n');
}

function cells({ houses, measured, offset, terms_pct, worst, wrong }: HouseFigures): string[] {
  const count = `${measured} of ${houses}`;
  if (measured === 0) return [houses === 0 ? '' : count, '', '', '', ''];
  const percent = (value: number) => value.toFixed(0);
  return [count, offset.medianError.toFixed(5), percent(terms_pct), percent(worst.covered_pct), String(wrong)];
}
