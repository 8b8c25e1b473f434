import type { FrameVerdict } from '../../../../src/contract/live.ts';

/** A verdict on a good frame through the left lens, but for what is given. */
export function verdictOf(given: Partial<FrameVerdict> = {}): FrameVerdict {
  return {
    serial: 1,
    hint: 'ready',
    shows: 'left',
    leak_pct: 0.6,
    marks: [{ id: 'L-0-00', eye: 'left', x: 10, y: 20 }],
    expected: 48,
    blur_px: 1,
    clipped_pct: 0,
    brightest: 0.8,
    movement_px: 0.3,
    isSteady: true,
    capture: null,
    analysis_ms: 20,
    ...given,
  };
}
