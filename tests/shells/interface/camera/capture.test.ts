import { describe, expect, it } from 'vitest';
import type { FrameVerdict } from '../../../../src/contract/live.ts';
import type { Shot } from '../../../../src/contract/shots.ts';
import { findMissingSlot } from '../../../../src/contract/photographs-of-round.ts';
import type { Round } from '../../../../src/contract/workspace.ts';
import type { ShotSlot } from '../../../../src/record/roles.ts';
import {
  type CaptureProgress,
  chooseModes,
  createSettler,
  followCapture,
  holdExposure,
  nextSlot,
} from '../../../../src/shells/interface/camera/capture.ts';
import { verdictOf } from './verdicts.ts';

const asked: CaptureProgress = { state: 'asked', slot: 'left-lens', want: 3, since: 10 };
const capture = (have: number): FrameVerdict['capture'] => ({ slot: 'left-lens', have, want: 3 });
const follow = (from: CaptureProgress, ...verdicts: Partial<FrameVerdict>[]) =>
  verdicts.reduce((progress, verdict) => followCapture(progress, verdictOf(verdict)), from);

describe('a shot being taken', () => {
  it('is gathered frame by frame, and then taken', () => {
    const some = follow(asked, { serial: 11 }, { serial: 12, capture: capture(1) });
    expect(some).toEqual({ state: 'gathering', slot: 'left-lens', have: 1, want: 3 });
    expect(follow(some, { capture: capture(2) }, { capture: capture(3) })).toEqual({
      state: 'taken',
      slot: 'left-lens',
    });
  });

  it('stays taken while other frames come', () => {
    const taken = follow(asked, { capture: capture(3) }, {}, {});
    expect(taken.state).toBe('taken');
  });

  it('is lost when the engine forgets it in the middle', () => {
    expect(follow(asked, { capture: capture(2) }, {})).toEqual({ state: 'lost', slot: 'left-lens' });
  });

  it('is lost when the engine never speaks of it', () => {
    expect(follow(asked, { serial: 20 }).state).toBe('asked');
    expect(follow(asked, { serial: 23 }).state).toBe('lost');
  });

  it('is found again by a page that was loaded in the middle', () => {
    expect(follow({ state: 'none' }, { capture: capture(1) }).state).toBe('gathering');
  });

  it('is none where none was asked for', () => {
    expect(follow({ state: 'none' }, {})).toEqual({ state: 'none' });
  });
});

const shotsAt = (slots: readonly ShotSlot[]) => slots.map((slot) => ({ slot, sha256: `new ${slot}` }) as Shot);
const having = (...slots: ShotSlot[]) => ({ shots: shotsAt(slots), rounds: [] });
const measured = (round: Partial<Round>) =>
  [{ number: 1, shots: { bare: 'old bare' }, verdict: 'outside', turns_made: null, ...round }] as Round[];

describe('the next shot', () => {
  it.each([
    [[], 'bare'],
    [['bare'], 'left-lens'],
    [['bare', 'left-lens'], 'right-lens'],
    [['left-lens'], 'right-lens'],
    [['right-lens'], 'left-lens'],
  ] as const)('after %j is %s', (slots, next) => {
    expect(nextSlot(having(...slots))).toBe(next);
  });

  it('is the one it was where both lenses have theirs', () => {
    expect(nextSlot(having('left-lens', 'right-lens'), 'closing')).toBe('closing');
    expect(nextSlot(having('bare', 'left-lens', 'right-lens'))).toBe('bare');
  });

  it('is without glasses in every round between, and nothing more', () => {
    const old = [{ slot: 'bare', sha256: 'old bare' } as Shot];
    expect(nextSlot({ shots: old, rounds: measured({}) }, 'right-lens')).toBe('bare');
    expect(findMissingSlot({ shots: shotsAt(['bare']), rounds: measured({}) })).toBeNull();
  });

  it('is through both lenses once more where a photograph without glasses says within', () => {
    const rounds = measured({ verdict: 'geometry-within' });
    expect(nextSlot({ shots: [], rounds })).toBe('left-lens');
    expect(nextSlot({ shots: shotsAt(['left-lens']), rounds })).toBe('right-lens');
    const both = { bare: 'a', 'left-lens': 'b', 'right-lens': 'c' };
    expect(nextSlot({ shots: [], rounds: measured({ verdict: 'within', shots: both }) })).toBe('bare');
    const turned = [{ adjustment: 'tilt' }] as unknown as Round['turns_made'];
    expect(nextSlot({ shots: [], rounds: measured({ verdict: 'geometry-within', turns_made: turned }) })).toBe('bare');
  });
});

describe('a settler', () => {
  it('shows the first value at once, and another once it has held', () => {
    const settler = createSettler<string>(300);
    expect(settler.next('a', 0)).toBe('a');
    expect([10, 100, 300].map((at) => settler.next('b', at))).toEqual(['a', 'a', 'a']);
    expect(settler.next('b', 311)).toBe('b');
  });

  it('does not follow what flickers', () => {
    const settler = createSettler<string>(300);
    const shown = Array.from({ length: 20 }, (_, i) => settler.next(i % 2 === 0 ? 'a' : 'b', 100 * i));
    expect(new Set(shown)).toEqual(new Set(['a']));
  });
});

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
