import { describe, expect, it } from 'vitest';
import type { Raster } from '../../src/imaging/pixels.ts';
import type { Eye } from '../../src/kernel/eye.ts';
import { invert, transfer } from '../../src/kernel/homography.ts';
import type { Point } from '../../src/kernel/point.ts';
import { type Camera, distortPoint, undistortPoint } from '../../src/scene/camera.ts';
import { renderPictureLayer, textureOfScreen } from '../../src/scene/picture-layer.ts';
import { framePicture, placeCamera } from '../../src/scene/place-camera.ts';
import { shotTruth } from '../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, plainShot, type Scene, type Shot } from '../../src/scene/scene.ts';
import { NO_MISALIGNMENT } from '../../src/scene/terms.ts';
import { BRIGHT_AXIS_DEG, layoutChart, MARK_PROPORTIONS, type Mark } from '../../src/target/chart.ts';
import { photoFromFilm } from '../../src/scene/picture-path.ts';

/** Even light, no black: the layer is the covered part of each pixel. */
const flat: Scene = {
  ...MERIDIAN_SCENE,
  surface: { mattPart: 1, halfGain_deg: 12 },
  blackLevel: 0,
  projector: {
    ...MERIDIAN_SCENE.projector,
    misalignment: { ...NO_MISALIGNMENT, verticalOffset: 0.011, rotation: 0.006, size: -0.007, keystoneH: 0.002 },
  },
};
const chart = layoutChart(flat.aspect);

function sharpShot(camera: Camera, lens: Eye): Shot {
  return { ...plainShot(lens, camera), vignetting: 0, defocus_px: 0 };
}
function layerOf(scene: Scene, shot: Shot, eye: Eye) {
  const photoFromChart = shotTruth(scene, shot).photoFromChart[eye];
  return { layer: renderPictureLayer(scene, shot, eye), photoFromChart };
}

/** Whether a chart point is bright, from the description of a mark and nothing else. */
function isLit(mark: Mark, { x, y }: Point): boolean {
  const r = Math.hypot(x - mark.x, y - mark.y) / mark.radius;
  const turn = (Math.atan2(y - mark.y, x - mark.x) * 180) / Math.PI - BRIGHT_AXIS_DEG[mark.eye];
  const angle = ((turn % 360) + 360) % 360;
  if (r < MARK_PROPORTIONS.crossing) return Math.cos((2 * angle * Math.PI) / 180) > 0;
  if (r < MARK_PROPORTIONS.ringInner || r > MARK_PROPORTIONS.ringOuter) return false;
  return ((mark.word >> Math.floor(angle / 22.5)) & 1) === 1;
}

describe('renderPictureLayer', () => {
  const placed = placeCamera({ width_px: 1200, height_px: 700, distance_ih: 3, azimuth_deg: 14, elevation_deg: -6 });
  const bent = { ...placed, roll_deg: 2, distortion: { ...placed.distortion, k1: 0.05, k2: -0.01 } };
  const camera = framePicture(flat.projector, flat.aspect, bent, 0.9);

  it.each(['L-0-00', 'R-3-10', 'L-6-06', 'R-2-15', 'L-1-09'])(
    'covers pixels as counting points through the inverse mapping does: %s',
    (id) => {
      const mark = chart.marks.find((m) => m.id === id) ?? chart.marks[0];
      const shot = sharpShot(camera, 'left');
      const { layer, photoFromChart } = layerOf(flat, shot, mark.eye);
      const chartFromPhoto = invert(photoFromChart);
      const centre = distortPoint(camera, transfer(photoFromChart, mark));
      const reach = 30;
      const counted = { light: 0, x: 0, y: 0 };
      const rendered = { light: 0, x: 0, y: 0 };
      let worst = 0;
      for (let y = Math.round(centre.y) - reach; y <= centre.y + reach; y++) {
        for (let x = Math.round(centre.x) - reach; x <= centre.x + reach; x++) {
          let lit = 0;
          const n = 16;
          for (let k = 0; k < n * n; k++) {
            const p = { x: x - 0.5 + ((k % n) + 0.5) / n, y: y - 0.5 + (Math.floor(k / n) + 0.5) / n };
            if (isLit(mark, transfer(chartFromPhoto, undistortPoint(camera, p)))) lit += 1 / (n * n);
          }
          const inChart = transfer(chartFromPhoto, undistortPoint(camera, { x, y }));
          const value = Math.hypot(inChart.x - mark.x, inChart.y - mark.y) < 1.2 * mark.radius ? at(layer, x, y) : 0;
          worst = Math.max(worst, Math.abs(value - lit));
          for (const [sum, v] of [
            [counted, lit],
            [rendered, value],
          ] as const) {
            sum.light += v;
            sum.x += v * (x - centre.x);
            sum.y += v * (y - centre.y);
          }
        }
      }
      expect(counted.light).toBeGreaterThan(50);
      // Counting 256 points errs by up to some 0.03 in a pixel.
      expect(worst).toBeLessThan(0.04);
      expect(Math.abs(rendered.light / counted.light - 1)).toBeLessThan(1e-3);
      expect(Math.abs(rendered.x / rendered.light - counted.x / counted.light)).toBeLessThan(0.002);
      expect(Math.abs(rendered.y / rendered.light - counted.y / counted.light)).toBeLessThan(0.002);
    },
  );

  it('shows every crossing where the exact mapping says, within 0.002 px', () => {
    // Seen from straight in front the mapping is affine, and a crossing looks the same turned by half a turn about its centre.
    const front = framePicture(
      flat.projector,
      flat.aspect,
      placeCamera({ width_px: 2000, height_px: 1000, distance_ih: 4, azimuth_deg: 0, elevation_deg: 0 }),
      0.93,
    );
    const straight: Scene = {
      ...flat,
      projector: { ...flat.projector, portRake_deg: 0, misalignment: { ...flat.projector.misalignment, keystoneH: 0 } },
    };
    const shot = { ...sharpShot(front, 'right'), defocus_px: 1.5, motion: { length_px: 1.5, angle_deg: 40 } };
    for (const eye of ['left', 'right'] as const) {
      const { layer, photoFromChart } = layerOf(straight, shot, eye);
      const marks = chart.marks.filter((m) => m.eye === eye && m.kind === 'inner');
      expect(marks.length).toBeGreaterThan(20);
      for (const mark of marks) {
        const expected = transfer(photoFromChart, mark);
        const found = symmetryCentre(layer, expected, 10);
        expect(Math.hypot(found.x - expected.x, found.y - expected.y)).toBeLessThan(0.002);
      }
    }
  });

  it('is bright 1 and dark 0 plus the black, which ends with the picture', () => {
    const black: Scene = { ...flat, blackLevel: 0.01, projector: { ...flat.projector, misalignment: NO_MISALIGNMENT } };
    const shot = sharpShot(camera, 'left');
    const { layer, photoFromChart } = layerOf(black, shot, 'left');
    const value = (x: number, y: number) => {
      const p = distortPoint(camera, transfer(photoFromChart, { x, y }));
      return at(layer, Math.round(p.x), Math.round(p.y));
    };
    const strip = chart.greySteps.find((s) => s.eye === 'left')!;
    const cell = strip.width / strip.levels.length;
    const [first, second] = [0, 1].map((k) => value(strip.x - strip.width / 2 + (k + 0.5) * cell, strip.y));
    expect(first - 0.01 / 0.99).toBeCloseTo(1, 6);
    expect(second - 0.01 / 0.99).toBeCloseTo(0.5, 6);
    const otherEye = chart.marks.find((m) => m.eye === 'right' && m.kind === 'inner')!;
    expect(value(otherEye.x, otherEye.y)).toBeCloseTo(0.01 / 0.99, 6);
    expect(value(0, 0.53)).toBe(0);
  });

  it('cuts the eye it is asked to and the place', () => {
    const cut: Scene = { ...flat, cuts: [{ eye: 'left', normal_deg: 180, distance_ih: 0.9, softness_ih: 0.01 }] };
    const shot = sharpShot(camera, 'left');
    const lightLeftOf = (scene: Scene, eye: Eye) => {
      const { layer, photoFromChart } = layerOf(scene, shot, eye);
      return chart.marks
        .filter((m) => m.eye === eye && m.x < -0.95)
        .reduce((sum, m) => {
          const p = distortPoint(camera, transfer(photoFromChart, m));
          let s = 0;
          for (let k = -4; k <= 4; k++)
            for (let j = -4; j <= 4; j++) s += at(layer, Math.round(p.x) + j, Math.round(p.y) + k);
          return sum + s;
        }, 0);
    };
    expect(lightLeftOf(flat, 'left')).toBeGreaterThan(20);
    expect(lightLeftOf(cut, 'left')).toBe(0);
    expect(lightLeftOf(cut, 'right')).toBe(lightLeftOf(flat, 'right'));
  });

  it('a patch that depolarizes sends more of the other eye’s picture, there only', () => {
    const stained: Scene = {
      ...flat,
      polarization: {
        ...flat.polarization,
        patches: [{ centre_ih: { x: 0.6, y: 0 }, radius_ih: 0.3, depolarization: 0.4 }],
      },
    };
    const shot = sharpShot(camera, 'left');
    const clean = layerOf(flat, shot, 'right').layer.data;
    const dirty = layerOf(stained, shot, 'right').layer.data;
    let most = 0;
    let unchanged = 0;
    clean.forEach((v, i) => {
      if (v < 0.9) return;
      most = Math.max(most, dirty[i] / v);
      if (dirty[i] === v) unchanged++;
    });
    expect(most).toBeGreaterThan(20);
    expect(unchanged).toBeGreaterThan(1000);
  });
});

function at({ width, height, data }: Raster, x: number, y: number): number {
  return x >= 0 && y >= 0 && x < width && y < height ? data[y * width + x] : 0;
}

/** The point about which the raster is most alike turned by half a turn, by Gauss and Newton on the difference. */
function symmetryCentre(raster: Raster, start: Point, reach: number): Point {
  let c = start;
  for (let iteration = 0; iteration < 6; iteration++) {
    const n = { xx: 0, xy: 0, yy: 0, x: 0, y: 0 };
    for (let v = -reach; v <= reach; v++) {
      for (let u = v > 0 ? -reach : 1; u <= reach; u++) {
        if (Math.hypot(u, v) > reach) continue;
        const difference = (p: Point) => interpolate(raster, p.x + u, p.y + v) - interpolate(raster, p.x - u, p.y - v);
        const d = difference(c);
        const gx = (difference({ x: c.x + 0.05, y: c.y }) - difference({ x: c.x - 0.05, y: c.y })) / 0.1;
        const gy = (difference({ x: c.x, y: c.y + 0.05 }) - difference({ x: c.x, y: c.y - 0.05 })) / 0.1;
        n.xx += gx * gx;
        n.xy += gx * gy;
        n.yy += gy * gy;
        n.x += gx * d;
        n.y += gy * d;
      }
    }
    const determinant = n.xx * n.yy - n.xy * n.xy;
    c = {
      x: c.x - (n.yy * n.x - n.xy * n.y) / determinant,
      y: c.y - (n.xx * n.y - n.xy * n.x) / determinant,
    };
  }
  return c;
}

/** Lagrange's polynomial through the six nearest pixels each way. */
function interpolate(raster: Raster, x: number, y: number): number {
  const nodes = [-2, -1, 0, 1, 2, 3];
  const weights = (t: number) => nodes.map((n) => nodes.reduce((w, m) => (m === n ? w : (w * (t - m)) / (n - m)), 1));
  const [x0, y0] = [Math.floor(x), Math.floor(y)];
  const wx = weights(x - x0);
  const wy = weights(y - y0);
  let sum = 0;
  for (const [j, dy] of nodes.entries()) {
    for (const [i, dx] of nodes.entries()) sum += wy[j] * wx[i] * at(raster, x0 + dx, y0 + dy);
  }
  return sum;
}

const camera = {
  ...placeCamera({ width_px: 1200, height_px: 700, distance_ih: 3, azimuth_deg: 0, elevation_deg: 0 }),
  focal_px: 1300,
};
const shot = plainShot('bare', camera);
const whole = { left: 0, top: 0, width: 1200, height: 700 };
const withTexture = (texture: NonNullable<Scene['surface']['texture']>, more: Partial<Scene> = {}): Scene => ({
  ...MERIDIAN_SCENE,
  ...more,
  surface: { ...MERIDIAN_SCENE.surface, texture },
});

describe('textureOfScreen', () => {
  it('is none on a smooth screen', () => expect(textureOfScreen(MERIDIAN_SCENE, shot, whole)).toBeUndefined());

  it('has a dark seam in the middle between two widths of cloth, on a plane and on a curved screen', () => {
    for (const more of [{}, { screenRadius_ih: 5 }]) {
      const seams = { apart_ih: 0.6, width_ih: 0.004, depth: 0.3 };
      const scene = withTexture({ seams }, { ...more, projector: { ...MERIDIAN_SCENE.projector, portRake_deg: 0 } });
      const texture = textureOfScreen(scene, shot, whole)!;
      const at = photoFromFilm(scene, shot, 'left')({ x: 0.3, y: 0 });
      const around = Array.from({ length: 41 }, (_, k) => texture.data[350 * 1200 + Math.round(at.x) - 20 + k]!);
      expect(Math.min(...around)).toBeCloseTo(0.7, 1.5);
      expect(around.indexOf(Math.min(...around))).toBeGreaterThan(14);
      expect(around.indexOf(Math.min(...around))).toBeLessThan(26);
      expect(Math.max(...around)).toBeCloseTo(1, 2);
    }
  });

  it('holes take their part of the light, and leave less of a wave the finer they are', () => {
    const of = (pitch_ih: number) => {
      const { data } = textureOfScreen(withTexture({ holes: { part: 0.05, pitch_ih } }), shot, whole)!;
      const mean = data.reduce((a, b) => a + b, 0) / data.length;
      return { mean, spread: Math.sqrt(data.reduce((a, b) => a + (b - mean) ** 2, 0) / data.length) };
    };
    const pixel_ih = 3 / 1300;
    const [coarse, fine] = [of(4.3 * pixel_ih), of(1.23 * pixel_ih)];
    expect(coarse.mean).toBeCloseTo(0.95, 2);
    expect(fine.mean).toBeCloseTo(0.95, 2);
    // sinc(1 / 4.3) = 0.913 and sinc(1 / 1.23) = 0.217 of a wave of 0.05 in each direction.
    expect(coarse.spread / 0.05).toBeCloseTo(0.913, 1);
    expect(fine.spread / 0.05).toBeCloseTo(0.217, 1);
  });
});
