import { expect, it } from 'vitest';
import { renderTrendsCsv } from '../../../src/report/csv/trends-csv.ts';

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
