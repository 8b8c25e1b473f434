import { describe, expect, it } from 'vitest';
import { keepChoice, recallChoice } from '../../../../src/shells/interface/camera/remembered-choice.ts';

function storage(text?: string) {
  let kept: string | null = text ?? null;
  return {
    getItem: () => kept,
    setItem: (_: string, value: string) => {
      kept = value;
    },
  };
}

const USUAL = { device: '', size: { width: 1920, height: 1080 }, frames: 16 };

describe('the choice of a camera', () => {
  it('is remembered', () => {
    const kept = storage();
    keepChoice(kept, { device: 'abc', size: { width: 1280, height: 720 }, frames: 32 });
    expect(recallChoice(kept)).toEqual({ device: 'abc', size: { width: 1280, height: 720 }, frames: 32 });
  });

  it.each([undefined, '', 'nonsense', 'null', '7', '{"device":5,"size":"big","frames":17}'])(
    'is the usual one where %j was kept',
    (text) => {
      expect(recallChoice(storage(text))).toEqual(USUAL);
    },
  );

  it('is the usual one where nothing can be kept', () => {
    expect(recallChoice(undefined)).toEqual(USUAL);
    expect(() => keepChoice(undefined, recallChoice(undefined))).not.toThrow();
  });
});
