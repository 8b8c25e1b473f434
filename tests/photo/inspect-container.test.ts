import { describe, expect, it } from 'vitest';
import { jpegQuantization } from '../../src/photo/inspect-container.ts';
import { encodeJpeg } from '../../src/photo/write-photo.ts';

const grey = { width: 16, height: 16, channels: 1 as const, data: new Uint8Array(256).fill(90) };

/** The example table of ITU-T T.81, K.1, begins with 16; libjpeg scales it by 200 - 2 q percent from quality 50 on. */
const scaled = (quality: number) => Math.max(1, Math.floor((16 * (200 - 2 * quality) + 50) / 100));

describe('jpegQuantization', () => {
  it.each([55, 75, 88, 96])('reads what a file of quality %d was written with', async (quality) => {
    expect(jpegQuantization(Buffer.from(await encodeJpeg(grey, quality)))).toBe(scaled(quality));
  });

  it('finds table 0 behind another one and other segments, wide values too', () => {
    const comment = [0xff, 0xfe, 0, 4, 1, 2];
    const other = [0x01, ...new Array(64).fill(9)];
    const wide = [0x10, 0x01, 0x02, ...new Array(126).fill(0)];
    const length = 2 + other.length + wide.length;
    const table = [0xff, 0xdb, length >> 8, length & 255, ...other, ...wide];
    expect(jpegQuantization(Buffer.from([0xff, 0xd8, ...comment, ...table]))).toBe(258);
  });

  it('knows nothing of a file without a table before its scan, or cut off', () => {
    expect(jpegQuantization(Buffer.from([0xff, 0xd8, 0xff, 0xda, 0, 2, 1, 2, 3]))).toBeUndefined();
    expect(jpegQuantization(Buffer.from([0xff, 0xd8, 0xff, 0xdb, 0]))).toBeUndefined();
    expect(jpegQuantization(Buffer.from([0xff, 0xd8, 0xff, 0xdb, 0, 67, 0]))).toBeUndefined();
  });
});
