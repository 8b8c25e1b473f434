import { afterEach, expect, it } from 'vitest';
import { loadOpenCv } from '../../../src/vision/opencv/load-opencv.ts';

const listeners = () => [process.listeners('uncaughtException'), process.listeners('unhandledRejection')];
const ours = () => {};

afterEach(() => {
  process.off('unhandledRejection', ours);
});

// One test, because the library can be loaded only once in a process.
it('loads the library once, leaves the listeners that were there and none of its own', async () => {
  process.on('unhandledRejection', ours);
  const before = listeners();
  expect(before[1]).toContain(ours);
  const first = await loadOpenCv();
  expect(listeners()).toEqual(before);

  const mat = new first.cv.Mat(3, 5, first.cv.CV_8UC1);
  expect([mat.rows, mat.cols]).toEqual([3, 5]);
  mat.delete();
  expect((await loadOpenCv()).cv).toBe(first.cv);
});
