import { describe, expect, it } from 'vitest';
import { createFramePump } from '../../../../src/shells/interface/camera/frame-pump.ts';

/** A pump whose judge is let go by hand. */
function start() {
  const judged: number[] = [];
  const released: number[] = [];
  let finish: (() => void)[] = [];
  const pump = createFramePump<number>(
    (frame) => {
      judged.push(frame);
      return new Promise((resolve) => finish.push(resolve));
    },
    (frame) => released.push(frame),
  );
  const finishOne = async () => {
    finish.shift()!();
    await new Promise((resolve) => setImmediate(resolve));
  };
  return { pump, judged, released, finishOne, pending: () => finish.length, reset: () => (finish = []) };
}

describe('a pump of frames', () => {
  it('has one frame judged at a time, and the newest next', async () => {
    const { pump, judged, released, finishOne } = start();
    for (const frame of [1, 2, 3, 4]) pump.offer(frame);
    expect(judged).toEqual([1]);
    expect(released).toEqual([2, 3]);
    await finishOne();
    expect(judged).toEqual([1, 4]);
    await finishOne();
    expect(released).toEqual([2, 3, 1, 4]);
  });

  it('goes on when frames come after a rest', async () => {
    const { pump, judged, finishOne } = start();
    pump.offer(1);
    await finishOne();
    pump.offer(2);
    expect(judged).toEqual([1, 2]);
  });

  it('lets everything go that comes after it was stopped', async () => {
    const { pump, judged, released, finishOne } = start();
    pump.offer(1);
    pump.offer(2);
    pump.stop();
    pump.offer(3);
    await finishOne();
    expect(judged).toEqual([1]);
    expect(released.toSorted()).toEqual([1, 2, 3]);
  });
});
