import { expect, it } from 'vitest';
import { listMotions } from '../../../../../src/shells/interface/screens/turns/motions.ts';
import { readingWith } from './turns-work.ts';

it('leaves out what is smaller than its own uncertainty', () => {
  const reading = readingWith({
    image_motion: [{ eye: 'left', vertical_pct: 0.27, horizontal_pct: 1e-6, rotation_deg: -1e-6 }],
  });
  expect(listMotions(reading)).toEqual([{ eye: 'left', vertical_pct: 0.27, horizontal_pct: 0, rotation_deg: 0 }]);
});
