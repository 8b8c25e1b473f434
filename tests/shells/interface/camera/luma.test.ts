import { describe, expect, it } from 'vitest';
import { layoutOf, lumaOfColours, rangeOf } from '../../../../src/shells/interface/camera/luma.ts';

describe('the layout of a frame', () => {
  it.each([
    ['I420', 'luma-first'],
    ['NV12', 'luma-first'],
    ['I444A', 'luma-first'],
    ['RGBA', 'red-first'],
    ['BGRX', 'blue-first'],
    ['I420P10', 'unknown'],
    [null, 'unknown'],
  ] as const)('%s is %s', (format, layout) => {
    expect(layoutOf(format)).toBe(layout);
  });
});

describe('luma of colours', () => {
  it('of grey is that grey', () => {
    const greys = Uint8Array.from({ length: 1024 }, (_, i) => (i % 4 === 3 ? 255 : i >> 2));
    expect([...lumaOfColours(greys, false)]).toEqual(Array.from({ length: 256 }, (_, i) => i));
  });

  it('weighs red, green and blue as ITU-R BT.709', () => {
    const pure = Uint8Array.of(255, 0, 0, 255, 0, 255, 0, 255, 0, 0, 255, 255);
    expect([...lumaOfColours(pure, false)]).toEqual([54, 182, 18]);
    expect([...lumaOfColours(pure, true)]).toEqual([18, 182, 54]);
  });
});

describe('the range of luma', () => {
  const frame = (background: number, white: number) => {
    const luma = new Uint8Array(97 * 1000).fill(background);
    luma.fill(white, 0, 97 * 80);
    return luma;
  };

  it('is believed where the codes do not contradict it', () => {
    expect(rangeOf(frame(17, 210), false)).toBe('video');
    expect(rangeOf(frame(17, 210), null)).toBe('video');
    expect(rangeOf(frame(17, 210), true)).toBe('full');
  });

  it('is full where black lies far below that of video', () => {
    expect(rangeOf(frame(2, 210), false)).toBe('full');
    expect(rangeOf(frame(1, 1), null)).toBe('full');
  });

  it('is not called full for a little noise and overshoot', () => {
    const noisy = frame(16, 235);
    for (let i = 0; i < 5; i++) noisy[97 * 151 * (i + 1)] = i % 2 === 0 ? 4 : 250;
    expect(rangeOf(noisy, false)).toBe('video');
  });
});
