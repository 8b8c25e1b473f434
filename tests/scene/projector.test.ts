import { describe, expect, it } from 'vitest';
import { transfer } from '../../src/kernel/homography.ts';
import { type Projector, projectorPosition, screenFromChart, screenFromPicture } from '../../src/scene/projector.ts';
import { NO_MISALIGNMENT } from '../../src/scene/terms.ts';

const straight: Projector = {
  throw_ih: 6,
  portRake_deg: 0,
  portSide_deg: 0,
  misalignment: NO_MISALIGNMENT,
  carriedBy: 'both',
};
const widthAt = (projector: Projector, y: number) => {
  const h = screenFromPicture(projector);
  return transfer(h, { x: 0.5, y }).x - transfer(h, { x: -0.5, y }).x;
};

describe('screenFromPicture', () => {
  it('is the picture itself for a projector straight in front', () => {
    const p = transfer(screenFromPicture(straight), { x: 0.7, y: -0.3 });
    expect(p.x).toBeCloseTo(0.7, 14);
    expect(p.y).toBeCloseTo(-0.3, 14);
  });

  it('makes the lower edge wider under a port above the screen centre', () => {
    const raked = { ...straight, portRake_deg: 12 };
    expect(widthAt(raked, -0.5)).toBeGreaterThan(widthAt(raked, 0.5));
  });

  it('makes the left edge taller for a port on the right', () => {
    const h = screenFromPicture({ ...straight, portSide_deg: 5 });
    const height = (x: number) => transfer(h, { x, y: 0.5 }).y - transfer(h, { x, y: -0.5 }).y;
    expect(height(-1)).toBeGreaterThan(height(1));
  });

  // Computed from the published keystone relation (1 + tan th tan al) / (1 - tan th tan al), al = atan(h / 2f). COMPUTED
  it.each([
    [12, 11.33, 1.0494],
    [12, 8.77, 1.038],
    [5, 8.77, 1.0155],
  ])('keystone of %d degrees with f 50 mm and a picture %d mm high is %d', (rake, height_mm, ratio) => {
    const raked = { ...straight, throw_ih: 50 / height_mm, portRake_deg: rake };
    expect(widthAt(raked, -0.5) / widthAt(raked, 0.5)).toBeCloseTo(ratio, 4);
  });

  it('cuts the screen where the ray from the port through the picture does', () => {
    const raked = { ...straight, portRake_deg: 9, portSide_deg: -3 };
    const port = projectorPosition(raked);
    expect(Math.hypot(port.x, port.y, port.z)).toBeCloseTo(6, 12);
    const on = transfer(screenFromPicture(raked), { x: 0.9, y: 0.4 });
    // The angle between this ray and the beam's axis is that of the picture point.
    const ray = { x: on.x - port.x, y: on.y - port.y, z: -port.z };
    const cos = -(ray.x * port.x + ray.y * port.y + ray.z * port.z) / (6 * Math.hypot(ray.x, ray.y, ray.z));
    expect(Math.tan(Math.acos(cos))).toBeCloseTo(Math.hypot(0.9, 0.4) / 6, 12);
  });
});

describe('screenFromChart', () => {
  const off = { ...straight, misalignment: { ...NO_MISALIGNMENT, verticalOffset: 0.01 } };
  it('right picture higher on the screen for a positive vertical offset, half of it in each eye', () => {
    expect(transfer(screenFromChart(off, 'right'), { x: 0, y: 0 }).y).toBeCloseTo(0.005, 14);
    expect(transfer(screenFromChart(off, 'left'), { x: 0, y: 0 }).y).toBeCloseTo(-0.005, 14);
  });
  it('can leave the left picture where it is', () => {
    const right = { ...off, carriedBy: 'right' as const };
    expect(transfer(screenFromChart(right, 'right'), { x: 0, y: 0 }).y).toBeCloseTo(0.01, 14);
    expect(transfer(screenFromChart(right, 'left'), { x: 0, y: 0 }).y).toBe(0);
  });
  it('weave moves both pictures alike', () => {
    for (const eye of ['left', 'right'] as const) {
      const still = transfer(screenFromChart(off, eye), { x: 0.2, y: 0.1 });
      const moved = transfer(screenFromChart(off, eye, { x: 0.002, y: -0.001 }), { x: 0.2, y: 0.1 });
      expect(moved.x - still.x).toBeCloseTo(0.002, 14);
      expect(moved.y - still.y).toBeCloseTo(-0.001, 14);
    }
  });
});
