/** A stage and frames of it for the tests of the live camera: smaller than a real camera's, rendered once per file. */
import type { FrameHeader, LiveWatch } from '../../../src/application/live/live-watch.ts';
import type { Point } from '../../../src/kernel/point.ts';
import { createRandom } from '../../../src/kernel/random.ts';
import {
  filmFrame,
  type FrameOrder,
  renderStage,
  type Stage,
  standVideoCamera,
} from '../../interface/simulated-camera.ts';

/** 520 px to the picture height: enough for everything that is asked of a photograph. */
export const SIZE = { width: 1440, height: 700 } as const;

export function stageOf(share = 0.86, defocus_px = 0.8): Stage {
  return renderStage(standVideoCamera(SIZE.width, SIZE.height, share), defocus_px);
}

export const FRAME_MS = 1000 / 15;
export const PEAK = 0.7;
export const LEAK = 0.006;

export const THROUGH = {
  left: { left: PEAK, right: PEAK * LEAK },
  right: { left: PEAK * LEAK, right: PEAK },
  bare: { left: PEAK, right: 0.9 * PEAK },
  cap: { left: 0, right: 0 },
} as const;

/** Shows frames to a watch one after the other, at the pace of a camera, and gives the last verdict. */
export function projectionist(watch: LiveWatch, stage: Stage) {
  let serial = 0;
  const header = (): FrameHeader => ({ serial, width: stage.width, height: stage.height, range: 'video' });
  return {
    show(order: Omit<FrameOrder, 'seed'>) {
      serial++;
      return watch.judge(header(), filmFrame(stage, { ...order, seed: serial }), serial * FRAME_MS);
    },
    showLuma(luma: Uint8Array) {
      serial++;
      return watch.judge(header(), luma, serial * FRAME_MS);
    },
    /** `frames` of the same, with the weave of film. */
    run(frames: number, order: Omit<FrameOrder, 'seed'>, weave_px = 0) {
      const random = createRandom(serial);
      const weave = (): Point => ({ x: weave_px * random.normal(), y: weave_px * random.normal() });
      let last = this.show({ ...order, shift: add(order.shift, weave()) });
      for (let i = 1; i < frames; i++) last = this.show({ ...order, shift: add(order.shift, weave()) });
      return last;
    },
  };
}

function add(a: Point | undefined, b: Point): Point {
  return { x: (a?.x ?? 0) + b.x, y: (a?.y ?? 0) + b.y };
}
