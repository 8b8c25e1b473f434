import { afterEach, expect, it, describe } from 'vitest';
import { loadOpenCv, type OpenCv, withScope } from '../../../src/vision/opencv/load-opencv.ts';

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

function recorder() {
  const deleted: string[] = [];
  return { deleted, thing: (name: string) => ({ delete: () => void deleted.push(name) }) };
}
const none = {} as OpenCv;

describe('withScope', () => {
  it('returns what the work returns and deletes what was kept, last first', () => {
    const { deleted, thing } = recorder();
    const result = withScope(none, (keep) => {
      keep(thing('first'));
      keep(thing('second'));
      expect(deleted).toEqual([]);
      return 42;
    });
    expect(result).toBe(42);
    expect(deleted).toEqual(['second', 'first']);
  });

  it('deletes also when the work throws, and lets the error through', () => {
    const { deleted, thing } = recorder();
    const error = new RangeError('no');
    const work = () =>
      withScope(none, (keep) => {
        keep(thing('kept'));
        throw error;
      });
    expect(work).toThrow(error);
    expect(deleted).toEqual(['kept']);
  });

  it('gives kept things back, so that they can be used in place', () => {
    const { thing } = recorder();
    const own = thing('own');
    withScope(none, (keep) => expect(keep(own)).toBe(own));
  });

  it('turns the number that the library throws into an error with its message, and frees its memory', async () => {
    const { cv } = await loadOpenCv();
    let mat: InstanceType<OpenCv['Mat']> | undefined;
    const work = () =>
      withScope(cv, (keep) => {
        mat = keep(new cv.Mat(4, 4, cv.CV_8UC1));
        const out = keep(new cv.Mat());
        // An even kernel is a mistake.
        cv.GaussianBlur(mat, out, new cv.Size(2, 2), 1, 1, cv.BORDER_REPLICATE);
      });
    expect(work).toThrow(/^OpenCV: .*ksize/s);
    expect(() => mat!.delete()).toThrow();
  });
});
