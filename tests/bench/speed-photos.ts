/** A child process of the speed bench: renders a pair of photographs of a given size, so that its memory goes with it. */
import { existsSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { EYES } from '../../src/kernel/eye.ts';
import { encodeJpeg } from '../../src/photo/write-photo.ts';
import { randomScene } from '../../src/scene/random-scene.ts';
import { renderShot } from '../../src/scene/render-shot.ts';
import { shotSeed } from '../../src/scene/scene-set.ts';
import { sizeOf } from './measure-set.ts';

export interface PhotosOrder {
  readonly seed: number;
  readonly megapixels: number;
  readonly left: string;
  readonly right: string;
}

process.on('message', (order: PhotosOrder) => {
  renderPair(order).then(
    () => process.send!(order.megapixels),
    (error: unknown) => {
      console.error(error);
      process.exit(1);
    },
  );
});

async function renderPair(order: PhotosOrder): Promise<void> {
  const set = randomScene(order.seed, 'judge', sizeOf(order.megapixels));
  for (const lens of EYES) {
    if (existsSync(order[lens])) continue;
    const { pixels } = renderShot(set.scene, set.shots[lens], shotSeed(set, lens));
    await writeFile(order[lens], await encodeJpeg(pixels, set.jpegQuality));
  }
}
