import { describe, expect, it } from 'vitest';
import type { FrameVerdict } from '../../../../src/contract/live.ts';
import { type CaptureProgress, followCapture } from '../../../../src/shells/interface/camera/capture-progress.ts';
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
