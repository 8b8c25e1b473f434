import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { readWordedEntry } from '../../src/logbook/read-record.ts';
import { summariseEntry } from '../../src/record/entry-summary.ts';
import { renderCsv, renderEntriesCsv, renderTrendsCsv } from '../../src/report/render-csv.ts';
import { parseCsv } from '../../src/shells/command/batch/read-manifest.ts';

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

it('has a row for each reading of each figure, with its limits where there are any', () => {
  const id = 'ab'.repeat(32);
  const point = { id, saved_at: '2026-03-14T09:00:00+01:00', value: 0.25, u: 0.001, is_after_turns: true };
  const drift = { verdict: 'too-few', readings: 1, slope: null, days_left: null } as const;
  const csv = renderTrendsCsv([
    { field: 'rotation_deg', points: [{ ...point, limits: { low: -0.1, high: 0.1 } }], drift },
    { field: 'shear_pct', points: [{ ...point, limits: null, is_after_turns: false }], drift },
  ]);
  expect(csv.split('\r\n')).toEqual([
    'field,saved_at,id,value,u,low,high,is_after_turns',
    `rotation_deg,2026-03-14T09:00:00+01:00,${id},0.25,0.001,-0.1,0.1,true`,
    `shear_pct,2026-03-14T09:00:00+01:00,${id},0.25,0.001,,,false`,
    '',
  ]);
});
