import { describe, expect, it } from 'vitest';
import type { Examination } from '../../../../../src/contract/shots.ts';
import { formatFacts } from '../../../../../src/shells/interface/screens/shots/facts.ts';

type Usable = Extract<Examination, { outcome: 'usable' }>;

const seen = (eye: 'left' | 'right', ...ids: string[]) => ids.map((id) => ({ id, eye, x: 0, y: 0 }));
const examination: Usable = {
  outcome: 'usable',
  code: 'good',
  message: 'Good.',
  remedy: null,
  shows: 'left',
  leak_pct: 1.25,
  blur_px: 1.06,
  clipped_pct: 0.01,
  brightest: 0.804,
  marks: [...seen('left', 'a', 'b', 'c'), ...seen('right', 'a', 'd')],
  expected: 48,
};

describe('the numbers of a photograph', () => {
  it('are of the picture that it shows', () => {
    expect(formatFacts(examination)).toEqual([
      'shows the left-eye picture',
      '3 of 48 marks',
      'edges 1.1 px soft',
      'brightest at 80 %',
      'nothing burnt out',
      'other eye 1.3 %',
    ]);
  });

  it('leave out what is not known, and name what is burnt out', () => {
    expect(formatFacts({ ...examination, shows: 'both', leak_pct: null, clipped_pct: 2 })).toEqual([
      'shows both pictures alike',
      '4 of 48 marks',
      'edges 1.1 px soft',
      'brightest at 80 %',
      '2.0 % burnt out',
    ]);
  });
});
