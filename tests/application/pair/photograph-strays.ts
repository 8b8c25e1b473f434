/** Photographs of one simulated house with stray copies of any strength: drawn once, mixed anew for each. */
import type { Pixels, Raster } from '../../../src/imaging/pixels.ts';
import { EYES, type Eye } from '../../../src/kernel/eye.ts';
import type { Point } from '../../../src/kernel/point.ts';
import { createRandom } from '../../../src/kernel/random.ts';
import { type PhotoSize, randomScene } from '../../../src/scene/random-scene.ts';
import { renderLayers, type ShotLayers } from '../../../src/scene/render-shot.ts';
import { exposeSensor } from '../../../src/scene/sensor.ts';
import type { SceneSet } from '../../../src/scene/scene.ts';
import { transmittance } from '../../../src/scene/polarization.ts';

export class StrayHouse {
  readonly set: SceneSet;
  readonly #layers: ShotLayers;
  readonly #copies = new Map<string, Raster>();

  constructor(seed: number, size: PhotoSize) {
    this.set = randomScene(seed, 'judge', size);
    this.#layers = renderLayers(this.set.scene, this.set.shots.left);
  }

  /** `strength`: of the copy of the left-eye picture, over the picture. */
  photograph(lens: Eye, copy: { readonly offset: Point; readonly strength: number } | undefined, seed: number): Pixels {
    const { scene, shots } = this.set;
    const { background, left, right } = this.#layers;
    const light = (eye: Eye) => {
      const passed = transmittance(scene.polarization, eye, lens);
      return shots[lens].exposure * (1 - scene.blackLevel) * scene.brightness[eye] * passed;
    };
    const strengths = { left: light('left'), right: light('right') };
    const stray = copy && this.#copyAt(copy.offset).data;
    const share = (copy?.strength ?? 0) * (strengths.left / this.#layers.truth.strength.left);
    const data = background.data.map(
      (room, i) =>
        room + strengths.left * left.data[i]! + strengths.right * right.data[i]! + (stray ? share * stray[i]! : 0),
    );
    return exposeSensor({ ...background, data }, shots[lens].sensor, createRandom(seed));
  }

  /** The light of a copy as strong as the left-eye picture, in the photograph through the left lens. */
  #copyAt(offset_ih: Point): Raster {
    const key = `${offset_ih.x} ${offset_ih.y}`;
    const known = this.#copies.get(key);
    if (known) return known;
    const { scene, shots } = this.set;
    const { background } = renderLayers({ ...scene, strays: [{ eye: 'left', offset_ih, strength: 1 }] }, shots.left);
    const data = background.data.map((light, i) => light - this.#layers.background.data[i]!);
    const copy = { ...background, data };
    this.#copies.set(key, copy);
    return copy;
  }

  photographPair(copy: { readonly offset: Point; readonly strength: number } | undefined, seed: number) {
    const [left, right] = EYES.map((lens, i) => this.photograph(lens, copy, 2 * seed + i)) as [Pixels, Pixels];
    return { left, right };
  }
}
