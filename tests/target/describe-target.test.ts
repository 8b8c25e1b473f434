import { describe, expect, it } from 'vitest';
import { layoutChart } from '../../src/target/chart.ts';
import { describeTarget } from '../../src/target/describe-target.ts';
import { layoutFilmFrame } from '../../src/target/film-frame.ts';
import { formOfPicture } from '../../src/target/rasterise.ts';

const chart = layoutChart(2.35);

describe('the description of the target', () => {
  const filmFrames = [layoutFilmFrame({ centreToCentre_in: 0.375, aspect: 2.35 })];
  const target = describeTarget(chart, { height_px: 1744, filmFrames });

  it('names its schema and lists every mark with its place, eye, size and word', () => {
    expect(target.schema).toBe('twinplumb.target/1');
    expect(target.marks.length).toBe(chart.marks.length);
    expect(target.counts).toEqual({ left: 48, right: 47 });
    for (const [i, mark] of target.marks.entries()) {
      const { id, eye, kind, x, y, radius, word } = chart.marks[i]!;
      expect(mark).toEqual({ id, eye, kind, x, y, radius, size: 2 * radius, word });
    }
  });

  it('says how chart coordinates become pixels of the pictures', () => {
    const { width_px, height_px, pixel_from_chart } = target.pictures;
    expect([width_px, height_px]).toEqual([Math.round(1744 * 2.35), 1744]);
    const { toPixel } = formOfPicture(chart, 1744);
    const [[a, b, c], [d, e, f]] = pixel_from_chart as [number[], number[]];
    for (const point of chart.marks) {
      const { x, y } = toPixel(point);
      expect(a! * point.x + b! * point.y + c!).toBeCloseTo(x, 9);
      expect(d! * point.x + e! * point.y + f!).toBeCloseTo(y, 9);
    }
  });

  it('describes grey cells, ladders and film frames with their units', () => {
    expect(target.grey_steps[0]!.cells.map(({ level }) => level)).toEqual([1, 0.5, 0.25, 0.125, 0.0625, 0]);
    const side = target.ladders.find(({ edge }) => edge === 'left')!;
    expect(side.percent_of).toBe('picture width');
    expect(side.rung_depths.at(-1)).toBeCloseTo(0.04 * 2.35, 12);
    expect(target.film_frames[0]).toMatchObject({
      centre_to_centre_in: 0.375,
      upper_eye: 'right',
      frame_height_mm: 19,
      files: { svg: 'two-up-0.375.svg', pdf: 'two-up-0.375.pdf', png: 'two-up-0.375.png' },
    });
  });

  it('survives JSON unchanged: no number is lost', () => {
    expect(JSON.parse(JSON.stringify(target))).toEqual(target);
    expect(JSON.stringify(target)).not.toContain('null');
  });
});
