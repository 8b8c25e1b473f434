import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { readWordedEntry } from '../../../src/logbook/read-record.ts';
import { summariseEntry } from '../../../src/record/entry-summary.ts';
import { renderEntriesCsv } from '../../../src/report/csv/entries-csv.ts';
import { renderCsv } from '../../../src/report/csv/render-csv.ts';
import { parseCsv } from '../../../src/shells/command/batch/read-manifest.ts';

it('quotes what must be quoted, and takes the sting out of formulas', () => {
  const text = renderCsv(
    ['a', 'b', 'c'],
    [
      ['x,"y"\nz', -1.5, null],
      ['=1+1', 1e-7, '-5'],
    ],
  );
  expect(text).toBe('a,b,c\r\n"x,""y""\nz",-1.5,\r\n\'=1+1,1e-7,\'-5\r\n');
  expect(parseCsv(text)[0]).toEqual({ a: 'x,"y"\nz', b: '-1.5', c: '' });
});

it('gives each entry a row, each figure with its uncertainty', () => {
  const read = readWordedEntry(JSON.parse(readFileSync('tests/record/golden/entry-1.json', 'utf8')));
  if (read.outcome !== 'read') throw new Error(read.outcome);
  const [row] = parseCsv(renderEntriesCsv([summariseEntry('ab'.repeat(32), read.record)]));
  expect(row).toMatchObject({
    id: 'ab'.repeat(32),
    house: 'The Meridian',
    verdict: 'outside',
    vertical_offset_pct: '0.412',
    vertical_offset_pct_u: '0.0011',
    crosstalk_right_pct: '1.04',
    replaces: '',
  });
});
