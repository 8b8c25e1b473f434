/** Photographs of a simulated hall as files, with the light that there truly was. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Pixels } from '../../../src/imaging/pixels.ts';
import type { Eye } from '../../../src/kernel/eye.ts';
import { transfer } from '../../../src/kernel/homography.ts';
import type { Point } from '../../../src/kernel/point.ts';
import { encodeJpeg } from '../../../src/photo/write-photo.ts';
import { screenGain } from '../../../src/scene/light.ts';
import { exposureForPeak, framePicture, placeCamera } from '../../../src/scene/place-camera.ts';
import { projectorPosition, screenFromChart } from '../../../src/scene/projector.ts';
import { transmittance, type Polarization } from '../../../src/scene/polarization.ts';
import { renderLayers, renderShot, type ShotLayers, shotTruth } from '../../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, plainShot, type Scene, type Shot } from '../../../src/scene/scene.ts';
import { exposeSensor } from '../../../src/scene/sensor.ts';
import { createRandom } from '../../../src/kernel/random.ts';

export interface HallCamera {
  readonly azimuth_deg?: number;
  readonly elevation_deg?: number;
  readonly distance_ih?: number;
  readonly vignetting?: number;
  /** Where the picture stands in the frame, from its middle, as parts of the frame. */
  readonly offset?: Point;
  /** Part of the frame's width that the picture takes. */
  readonly share?: number;
}

/** A shot through a lens at the usual exposure. */
export function shotOf(scene: Scene, lens: Shot['lens'], seat: HallCamera = {}): Shot {
  const { azimuth_deg = 3, elevation_deg = -2, distance_ih = 3.4, vignetting = 0.8, offset, share = 0.8 } = seat;
  const placed = placeCamera({ width_px: 1500, height_px: 1000, distance_ih, azimuth_deg, elevation_deg });
  const camera = framePicture(scene.projector, scene.aspect, placed, share, offset);
  const shot = { ...plainShot(lens, camera), vignetting };
  return { ...shot, exposure: exposureForPeak(scene, shot, 0.75) };
}

/** One shot's pictures, drawn once, photographed under any polarization: it changes their strengths and nothing else. */
export class PolarizedShots {
  readonly #layers: ShotLayers;

  constructor(
    readonly scene: Scene,
    readonly shot: Shot,
  ) {
    this.#layers = renderLayers(scene, shot);
  }

  through(lens: Eye, polarization: Polarization, seed: number): Pixels {
    const { left, right, background } = this.#layers;
    const { strength } = shotTruth({ ...this.scene, polarization }, { ...this.shot, lens });
    const data = background.data.map((room, i) => room + strength.left * left.data[i] + strength.right * right.data[i]);
    return exposeSensor({ ...background, data }, this.shot.sensor, createRandom(seed));
  }
}

/** Leak over signal through a lens, both pictures equally bright. */
export function trueLeak(polarization: Polarization, lens: Eye): number {
  return (
    transmittance(polarization, lens === 'left' ? 'right' : 'left', lens) / transmittance(polarization, lens, lens)
  );
}

/** A folder that goes when the tests are done. */
export class Darkroom {
  readonly folder = mkdtempSync(join(tmpdir(), 'twinplumb-hall-'));

  async develop(name: string, pixels: Pixels): Promise<{ path: string; name: string }> {
    const path = join(this.folder, name);
    writeFileSync(path, await encodeJpeg(pixels, 94));
    return { path, name };
  }

  async photograph(name: string, shot: Shot, seed: number, scene: Scene = MERIDIAN_SCENE) {
    return this.develop(name, renderShot(scene, shot, seed).pixels);
  }

  close(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** Light that a chart point of an eye's picture sends towards the camera, over what the centre sends. */
export function trueRatio(scene: Scene, shot: Shot, eye: Eye, at: Point): number {
  const port = projectorPosition(scene.projector);
  const onScreen = (chartPoint: Point) => transfer(screenFromChart(scene.projector, eye, shot.weave_ih), chartPoint);
  const gain = (chartPoint: Point) => screenGain(scene.surface, port, shot.camera.position_ih, onScreen(chartPoint));
  return gain(at) / gain({ x: 0, y: 0 });
}
