/** A pair of photographs of one simulated house, through the left and the right lens, ready to be rendered. */
import type { Eye } from '../kernel/eye.ts';
import type { Scene, Shot } from './scene.ts';

export interface SceneSet {
  readonly seed: number;
  readonly scene: Scene;
  readonly shots: Readonly<Record<Eye, Shot>>;
  /** Quality of the JPEG files, 1 to 100. */
  readonly jpegQuality: number;
  /** What is wrong on purpose, for people. */
  readonly faults: readonly string[];
}

/** The noise of the two photographs of a set is independent and follows from its seed. */
export function shotSeed(set: SceneSet, lens: Eye): number {
  return set.seed * 2 + (lens === 'left' ? 0 : 1);
}
