import { describe, expect, it } from 'vitest';
import { chooseModes, holdExposure } from '../../../../src/shells/interface/camera/hold-exposure.ts';

const CAN = {
  exposureMode: ['continuous', 'manual'],
  whiteBalanceMode: ['continuous', 'manual'],
  focusMode: ['manual'],
};
const NOW = { exposureMode: 'continuous', whiteBalanceMode: 'continuous', focusMode: 'manual' };

function camera(can: object, now: object, refuses = false) {
  const asked: unknown[] = [];
  return {
    asked,
    getCapabilities: () => can,
    getSettings: () => now,
    applyConstraints: async (wanted: unknown) => {
      asked.push(wanted);
      if (refuses) throw new DOMException('', 'OverconstrainedError');
    },
  };
}
const settle = () => new Promise((resolve) => setTimeout(resolve, 5));

describe('the exposure of a camera', () => {
  it('is held where it is automatic and can be held, and let go again', async () => {
    const track = camera(CAN, NOW);
    const letGo = holdExposure(track);
    await settle();
    expect(track.asked).toEqual([{ advanced: [{ exposureMode: 'manual', whiteBalanceMode: 'manual' }] }]);
    letGo();
    await settle();
    expect(track.asked[1]).toEqual({ advanced: [{ exposureMode: 'continuous', whiteBalanceMode: 'continuous' }] });
  });

  it('is left alone where the camera says nothing of it, or is set by hand already', async () => {
    expect(chooseModes({}, {})).toBeUndefined();
    expect(chooseModes(CAN, { ...NOW, exposureMode: 'manual', whiteBalanceMode: 'manual' })).toBeUndefined();
    const track = camera({ exposureMode: ['continuous'] }, { exposureMode: 'continuous' });
    holdExposure(track)();
    await settle();
    expect(track.asked).toEqual([]);
  });

  it('that a camera refuses to hold troubles nobody', async () => {
    const track = camera(CAN, NOW, true);
    const letGo = holdExposure(track);
    letGo();
    await settle();
    expect(track.asked).toHaveLength(2);
  });

  it('goes back to the automatic that there is where the camera did not tell its mode', () => {
    expect(chooseModes({ exposureMode: ['manual', 'continuous'] }, {})).toEqual({
      held: { exposureMode: 'manual' },
      free: { exposureMode: 'continuous' },
    });
  });
});
