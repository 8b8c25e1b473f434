import { describe, expect, it } from 'vitest';
import { reading, TERM_FIELDS } from '../../src/record/reading.ts';
import { sampleReading, sampleRefusal } from '../report/sample-reading.ts';

const plain = (value: unknown) => JSON.parse(JSON.stringify(value));

describe('the schema of a reading', () => {
  it('takes a measured and a refused reading through JSON without change', () => {
    expect(reading.parse(plain(sampleReading))).toEqual(sampleReading);
    expect(reading.parse(plain(sampleRefusal))).toEqual(sampleRefusal);
  });

  it('keeps the field names that the command line promises', () => {
    expect(Object.keys(reading.parse(plain(sampleReading)))).toEqual(
      expect.arrayContaining([
        'schema',
        'outcome',
        'software',
        'shots',
        'misalignment',
        'eyes',
        'marks',
        'findings',
        'turns',
        'image_motion',
        'predicted_after',
        'causes',
        'cautions',
      ]),
    );
    expect(Object.keys(sampleReading.misalignment)).toEqual([...TERM_FIELDS, 'worst_vertical_pct']);
  });

  it.each([
    ['another schema', 'schema', 'twinplumb.reading/2'],
    ['a value that is not a number', 'misalignment.size_pct.value', null],
    ['NaN, before it can reach a file', 'predicted_after.size_pct', Number.NaN],
    ['a negative uncertainty', 'misalignment.size_pct.u', -1],
    ['a missing term', 'misalignment.shear_pct', undefined],
    ['an unknown verdict', 'findings.0.verdict', 'fine'],
    ['a turn of nothing', 'turns.0.turns', 0],
    ['a short hash', 'shots.0.sha256', 'abc'],
    ['a matrix of eight numbers', 'evidence.photo_from_chart.left', [1, 0, 0, 0, 1, 0, 0, 0]],
  ])('rejects %s and says where', (_name, path, value) => {
    const result = reading.safeParse(withValueAt(sampleReading, path, value));
    expect(result.success).toBe(false);
    expect(result.error?.issues.map((issue) => issue.path.join('.'))).toContain(path);
  });
});

/** A copy of `whole` with another value at the dotted path. */
function withValueAt(whole: unknown, path: string, value: unknown): unknown {
  const copy = structuredClone(whole);
  const keys = path.split('.');
  const last = keys.pop() ?? '';
  let place = copy as Record<string, unknown>;
  for (const key of keys) place = place[key] as Record<string, unknown>;
  place[last] = value;
  return copy;
}
