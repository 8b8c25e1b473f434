import { describe, expect, it } from 'vitest';
import { recogniseFormat } from '../../src/photo/recognise-format.ts';
import { buildTiff, greyDirectory, isoMediaHead } from './hand-built-files.ts';

const latin = (text: string): Buffer => Buffer.from(text, 'latin1');
const grey = greyDirectory(4, 4);
const pixels = Buffer.alloc(16);

describe('recogniseFormat', () => {
  it.each([
    ['JPEG', latin('\xff\xd8\xff\xe1\0\x10Exif')],
    ['PNG', latin('\x89PNG\r\n\x1a\n\0\0\0\rIHDR')],
    ['TIFF', buildTiff([grey], { pixels })],
    ['TIFF', buildTiff([grey], { pixels, bigEndian: true })],
    ['DNG', buildTiff([[...grey, { tag: 50706, type: 1, values: [1, 4, 0, 0] }]], { pixels })],
    ['DNG', buildTiff([[...grey, { tag: 50706, type: 1, values: [1, 4, 0, 0] }]], { pixels, bigEndian: true })],
    ['camera raw', buildTiff([[{ tag: 262, type: 3, values: [32803] }]])],
    ['camera raw', buildTiff([grey, [{ tag: 262, type: 3, values: [34892] }]], { pixels })],
    ['camera raw', latin('II*\0\x10\0\0\0CR\x02\0\0\0\0\0')],
    ['camera raw', latin('IIU\0\x18\0\0\0')],
    ['camera raw', isoMediaHead('crx ', 'isom')],
    ['BigTIFF', latin('II+\0\x08\0\0\0')],
    ['HEIC', isoMediaHead('heic', 'mif1')],
    ['HEIC', isoMediaHead('heix')],
    ['HEIC', isoMediaHead('mif1', 'heic')],
    ['AVIF', isoMediaHead('avif', 'mif1')],
    ['AVIF', isoMediaHead('mif1', 'avif')],
    ['video', isoMediaHead('mp42', 'isom')],
    ['video', isoMediaHead('qt  ')],
    ['video', latin('RIFF\0\0\0\0AVI LIST')],
    ['WebP', latin('RIFF\0\0\0\0WEBPVP8 ')],
    ['GIF', latin('GIF89a\x01\0\x01\0')],
    ['BMP', latin('BM\0\0\0\0')],
    ['JPEG XL', latin('\xff\x0a\0\0')],
    ['JPEG 2000', latin('\0\0\0\x0cjP  \r\n\x87\n')],
    ['OpenEXR', latin('v/1\x01\x02\0\0\0')],
    ['PDF', latin('%PDF-1.7\n')],
    ['ZIP', latin('PK\x03\x04\x14\0')],
    ['SVG', latin('<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg">')],
    ['text', latin('left.jpg\nright.jpg\n')],
    ['unknown', latin('\x00\x01\x02\x03\x04\x05\x06\x07\x08')],
    ['unknown', latin('\xff\xd8')],
    ['unknown', latin('II*\0')],
    ['text', Buffer.from('Übung für Größen\n')],
  ])('%s', (format, bytes) => {
    expect(recogniseFormat(bytes)).toBe(format);
  });

  it('finds sensor values in a directory behind the preview', () => {
    const bytes = buildTiff([
      [
        { tag: 254, type: 4, values: [1] },
        { tag: 330, type: 4, values: [0] },
      ],
    ]);
    const sensor = bytes.length;
    const behind = Buffer.concat([bytes, latin('\x01\0\x06\x01\x03\0\x01\0\0\0\x23\x80\0\0\0\0\0\0')]);
    // The directory stands at byte 8, its second entry's value at 8 + 2 + 12 + 8.
    behind.writeUInt32LE(sensor, 30);
    expect(recogniseFormat(bytes)).toBe('TIFF');
    expect(recogniseFormat(behind)).toBe('camera raw');
  });
});
