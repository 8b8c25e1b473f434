import { describe, expect, it } from 'vitest';
import { nameOfSize, offerSizes, sizeOfName } from '../../../../src/shells/interface/camera/resolutions.ts';

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
