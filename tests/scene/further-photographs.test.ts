import { describe, expect, it } from 'vitest';
import { plantFault } from '../../src/scene/faults.ts';
import { FURTHER_KINDS, planFurtherPhotographs } from '../../src/scene/further-photographs.ts';
import { setUpRehearsal } from '../../src/scene/rehearsal-set.ts';
import { renderShot } from '../../src/scene/render-shot.ts';
import { shotSeed } from '../../src/scene/scene.ts';
import type { FaultName } from '../../src/scene/fault-names.ts';

const photo = { width_px: 640, height_px: 480 };
const set = setUpRehearsal(6, { photo, cameraMove_px: 5 });
const all = planFurtherPhotographs(set, { kinds: FURTHER_KINDS });
const photographOf = (name: string, from = all) => bytesOf(from.photographs.find((one) => one.name === name)!.render());
const planted = (name: FaultName) => plantFault(set, { name, eye: 'left', size: 0.05, other: 0 });
const brightest = (bytes: Uint8Array) => bytes.reduce((most, value) => Math.max(most, value), 0);

function bytesOf({ data }: { readonly data: { readonly length: number; readonly [i: number]: number } }): Uint8Array {
  return Uint8Array.from(data);
}

describe('planFurtherPhotographs', () => {
  it('the names are those of the truth, each once, of any kinds in any order', () => {
    const { bare, closing, flat, open_gate, ports, null_series } = all.truth;
    const files = [bare, closing, flat, open_gate].map((one) => one!.file);
    const series = [null_series!.reference, ...null_series!.shots.map(({ file }) => file)];
    expect(all.photographs.map(({ name }) => `${name}.jpg`)).toEqual([
      ...files,
      ...Object.values(ports!.files),
      ...series,
    ]);
    const some = planFurtherPhotographs(set, { kinds: ['ports', 'flat'] });
    expect(some.photographs.map(({ name }) => name)).toEqual(['flat', 'ports-left', 'ports-right']);
    expect(some.truth.ports).toEqual(all.truth.ports);
    expect(Object.keys(some.truth).toSorted()).toEqual(['evenness', 'flat', 'ports']);
    expect(planFurtherPhotographs(set, { kinds: [] })).toEqual({ photographs: [], truth: {} });
  });

  it('the same set gives the same bytes, and each photograph its own noise', () => {
    const flat = photographOf('flat', planFurtherPhotographs(set, { kinds: ['flat'] }));
    expect(Buffer.compare(photographOf('flat'), flat)).toBe(0);
    const shot = { ...set.shots.left, camera: set.shots.right.camera };
    const pair = bytesOf(renderShot(set.scene, shot, shotSeed(set, 'left')).pixels);
    const closing = photographOf('closing');
    expect(closing.filter((value, i) => value !== pair[i]).length).toBeGreaterThan(closing.length / 10);
    // The camera that was touched stays where it was put: nothing but noise lies between them.
    const apart = closing.reduce((sum, value, i) => sum + Math.abs(value - pair[i]!), 0);
    expect(apart / closing.length).toBeLessThan(3);
  });

  it('without glasses the light of both pictures comes together: as bright as the pair, and nothing burns out', () => {
    const pair = brightest(bytesOf(renderShot(set.scene, set.shots.left, shotSeed(set, 'left')).pixels));
    const gate = brightest(photographOf('open-gate'));
    expect(Math.abs(gate / pair - 1)).toBeLessThan(0.1);
    // The white of the two targets hardly meets, so that each is half as bright in light: three quarters in code.
    const bare = brightest(photographOf('bare'));
    expect(bare / pair).toBeGreaterThan(0.65);
    expect(bare / pair).toBeLessThan(1);
  });

  it('the film weaves between the photographs where it is asked to', () => {
    const weaving = planFurtherPhotographs(set, { kinds: ['closing'], weave_ih: 0.01 });
    expect(Math.hypot(weaving.truth.closing!.weave_ih.x, weaving.truth.closing!.weave_ih.y)).toBeGreaterThan(0);
    expect(all.truth.closing!.weave_ih).toEqual({ x: 0, y: 0 });
  });

  it('the ghosts of the series are least beside the null, and the last is how things stand', () => {
    const { shots, null_deg, least_leak_pct } = all.truth.null_series!;
    const nearest = shots.toSorted((a, b) => a.leak_pct.value - b.leak_pct.value)[0]!;
    expect(Math.abs(nearest.turn_deg - null_deg.value)).toBeLessThanOrEqual(2.5);
    expect(least_leak_pct.value).toBeLessThanOrEqual(nearest.leak_pct.value);
  });

  it('takes each picture from the photograph that shows it, whichever lens that is', () => {
    const balance = (of: typeof set) =>
      planFurtherPhotographs(of, { kinds: ['flat'] }).truth.evenness!.right_over_left_pct.value;
    const { right, left } = set.scene.brightness;
    expect(Math.abs(balance(set) / ((100 * right) / left) - 1)).toBeLessThan(0.06);
    for (const name of ['polarizers-exchanged', 'camera-filters-exchanged'] as const) {
      expect(Math.abs(balance(planted(name)) / ((100 * right) / left) - 1)).toBeLessThan(0.06);
    }
  });

  it('through exchanged lenses every port is dark to the eye that it serves, through none to neither', () => {
    const kept = (name: FaultName) => planFurtherPhotographs(planted(name), { kinds: ['ports'] }).truth.ports!.ports;
    for (const { eye, darker_through } of kept('camera-filters-exchanged')) expect(darker_through).toBe(eye);
    for (const { kept_pct } of kept('camera-filters-missing')) expect(kept_pct.value).toBe(100);
    // One lens twice is a slip of the pair: the ports were taken through both.
    for (const { eye, darker_through } of kept('photograph-mistaken')) expect(darker_through).not.toBe(eye);
  });

  it('refuses a series that this house cannot show before anything is rendered', () => {
    expect(() => planFurtherPhotographs(planted('polarizers-missing'), { kinds: ['ports', 'null-series'] })).toThrow(
      RangeError,
    );
  });
});
