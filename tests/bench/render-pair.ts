/** Renders a pair of photographs of a given size; in a child process, so that its memory goes with it. */
import { existsSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { EYES } from '../../src/kernel/eye.ts';
import { encodeJpeg } from '../../src/photo/write-photo.ts';
import { randomScene } from '../../src/scene/random-scene.ts';
import { renderShot } from '../../src/scene/render-shot.ts';
import { shotSeed } from '../../src/scene/scene.ts';
import { sizeOf } from './measure-set.ts';

export interface PairRequest {
  readonly seed: number;
  readonly megapixels: number;
  readonly left: string;
  readonly right: string;
}

/** Answers with the size of the photographs. */
export async function renderPair(request: PairRequest): Promise<number> {
  const set = randomScene(request.seed, 'judge', sizeOf(request.megapixels));
  for (const lens of EYES) {
    if (existsSync(request[lens])) continue;
    const { pixels } = renderShot(set.scene, set.shots[lens], shotSeed(set, lens));
    await writeFile(request[lens], await encodeJpeg(pixels, set.jpegQuality));
  }
  return request.megapixels;
}
