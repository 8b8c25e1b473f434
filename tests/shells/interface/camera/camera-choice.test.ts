import { describe, expect, it } from 'vitest';
import {
  CAMERA_PROBLEMS,
  cameraProblemOf,
  keepChoice,
  nameOfSize,
  offerSizes,
  recallChoice,
  sizeOfName,
} from '../../../../src/shells/interface/camera/camera-choice.ts';
import words from '../../../../src/wording/en/screens/camera.json' with { type: 'json' };

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

const names = (most?: { width: number; height: number }) => offerSizes(most).map(nameOfSize);

describe('sizes on offer', () => {
  it('end at what the camera can do', () => {
    expect(names({ width: 1920, height: 1080 })).toEqual(['1920x1080', '1280x720', '640x480']);
  });

  it('hold the camera’s own largest size, also an unusual one', () => {
    expect(names({ width: 2592, height: 1944 })[0]).toBe('2592x1944');
    expect(names({ width: 320, height: 240 })).toEqual(['320x240']);
  });

  it('are all the usual ones where the camera does not tell', () => {
    expect(names()).toContain('3840x2160');
  });
});

describe('the name of a size', () => {
  it('can be read again', () => {
    expect(sizeOfName(nameOfSize({ width: 1920, height: 1080 }))).toEqual({ width: 1920, height: 1080 });
  });

  it.each(['', '1920', '1920x', 'x1080', '1920x1080x3', '-1x5'])('is not %j', (name) => {
    expect(sizeOfName(name)).toBeUndefined();
  });
});

describe('the trouble of an error', () => {
  it.each([
    ['NotAllowedError', 'denied'],
    ['NotFoundError', 'none'],
    ['OverconstrainedError', 'none'],
    ['NotReadableError', 'busy'],
    ['AbortError', 'busy'],
    ['TypeError', 'unsupported'],
    ['SomethingNewError', 'unknown'],
  ] as const)('%s is %s', (name, trouble) => {
    expect(cameraProblemOf(new DOMException('', name))).toBe(trouble);
  });

  it('is unknown for what is no error', () => {
    expect(cameraProblemOf(undefined)).toBe('unknown');
    expect(cameraProblemOf('no')).toBe('unknown');
  });
});

describe('every trouble', () => {
  it.each(CAMERA_PROBLEMS)('%s has a sentence and a remedy', (trouble) => {
    expect(words).toHaveProperty([`camera.trouble-${trouble}`]);
    expect(words).toHaveProperty([`camera.trouble-${trouble}-remedy`]);
  });
});
