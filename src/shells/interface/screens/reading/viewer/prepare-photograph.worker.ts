/**
 * Fetches a photograph, decodes it and makes its pyramid of luminance, apart from the page, which stays smooth meanwhile.
 * In: the address. Out: how far it is, then the pyramid, or that it could not be had.
 */
import { buildPyramid, type Pyramid, writeLuminance } from './luminance-plane.ts';

export type PhotographMessage =
  | { readonly type: 'progress'; readonly fraction: number }
  | { readonly type: 'ready'; readonly pyramid: Pyramid }
  | { readonly type: 'missing' };

/** The page's types know a worker only from outside. */
const scope = globalThis as unknown as {
  onmessage: ((event: MessageEvent<string>) => void) | null;
  postMessage(message: PhotographMessage, transfer?: Transferable[]): void;
};

/** Rows that are read out of the canvas at a time: all at once would take four bytes for every pixel. */
const STRIP = 256;

scope.onmessage = ({ data: address }) => {
  prepare(address).then(
    (pyramid) =>
      scope.postMessage(
        { type: 'ready', pyramid },
        pyramid.levels.map(({ data }) => data.buffer as ArrayBuffer),
      ),
    () => scope.postMessage({ type: 'missing' }),
  );
};

async function prepare(address: string): Promise<Pyramid> {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`the photograph is not there: ${response.status}`);
  const picture = await createImageBitmap(await response.blob());
  scope.postMessage({ type: 'progress', fraction: 0.5 });
  const { width, height } = picture;
  const data = new Uint8Array(width * height);
  const strip = new OffscreenCanvas(width, Math.min(STRIP, height));
  const pen = strip.getContext('2d', { willReadFrequently: true })!;
  for (let y = 0; y < height; y += STRIP) {
    const rows = Math.min(STRIP, height - y);
    pen.drawImage(picture, 0, y, width, rows, 0, 0, width, rows);
    writeLuminance(pen.getImageData(0, 0, width, rows).data, data, y * width);
  }
  picture.close();
  scope.postMessage({ type: 'progress', fraction: 0.8 });
  return buildPyramid({ width, height, data });
}
