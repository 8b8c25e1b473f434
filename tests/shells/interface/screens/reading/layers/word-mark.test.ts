import { expect, it } from 'vitest';
import { readMarkOut, formatMark } from '../../../../../../src/shells/interface/screens/reading/layers/word-mark.ts';

it('says which mark it is, where, how far off and why it stands out', () => {
  const words = formatMark(
    {
      id: 'R-0-11',
      eye: 'right',
      shot: 'left-lens',
      at: [1.1, 0.45],
      photo_px: [1948.34, 669.6],
      u_px: [0.004, 0.004],
      residual_px: [0.012, 0.016],
      used: true,
    },
    2.35,
  );
  expect(readMarkOut(words)).toBe(
    'R-0-11, right-eye picture, through the left lens, upper right corner, at 1948.3, 669.6 px, ' +
      '0.020 px from its fitted place, uncertainty 0.0040 px, Used, but stands out: 5.0 times its uncertainty off',
  );
});
