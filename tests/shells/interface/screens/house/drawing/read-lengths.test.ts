import { describe, expect, it } from 'vitest';
import { BLANK_DRAFT, withValue } from '../../../../../../src/shells/interface/screens/house/draft.ts';
import { readLengths } from '../../../../../../src/shells/interface/screens/house/drawing/read-lengths.ts';
import { MERIDIAN } from '../meridian.ts';

describe('the lengths of a drawing', () => {
  it('are those of the House', () => {
    expect(readLengths(MERIDIAN)).toEqual({
      pictureWidth_m: 10.4,
      pictureAspect: 2.35,
      throw_m: 27,
      nearestRow_m: 6.5,
      referenceSeat_m: 15,
      centreToCentre_in: 0.375,
      filmWidth_mm: 20.95,
      filmHeight_mm: null,
    });
  });

  it('are unknown or as usual where a draft says nothing that can be drawn', () => {
    const tree = withValue(withValue(BLANK_DRAFT.tree, 'throw_m', 'far'), 'screen.picture_width_m', -3);
    expect(readLengths(tree)).toMatchObject({ throw_m: null, pictureWidth_m: null, pictureAspect: 2.35 });
  });
});
