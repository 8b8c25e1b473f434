import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import { layoutChart, type Mark } from '../../src/target/chart.ts';
import { drawGreySteps, drawMark, drawPicture, greyCells } from '../../src/target/draw-picture.ts';
import { formOfPicture, rasterise, codePicture } from '../../src/target/rasterise.ts';
import { type Contour, rectangle, reversed, type Shape, sector } from '../../src/target/shapes.ts';
import { areaOf } from './area-of.ts';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';

const white = (...contours: Contour[]): Shape => ({ part: 'test', level: 1, contours });
const asIs = (width: number, height: number) => ({ width, height, toPixel: (p: { x: number; y: number }) => p });
const sum = (values: Float32Array) => values.reduce((total, value) => total + value, 0);

describe('area coverage', () => {
  it('puts pixel centres on whole numbers', () => {
    // From 0.5 to 2.5 both ways: pixels 1 and 2 whole, nothing else.
    const { data } = rasterise([white(rectangle({ left: 0.5, right: 2.5, bottom: 0.5, top: 2.5 }))], asIs(4, 4));
    expect([...data]).toEqual([0, 0, 0, 0, 0, 1, 1, 0, 0, 1, 1, 0, 0, 0, 0, 0]);
    // A box about one pixel's centre covers a quarter of it.
    const small = rasterise([white(rectangle({ left: 0.75, right: 1.25, bottom: 1.75, top: 2.25 }))], asIs(3, 3));
    expect(small.data[2 * 3 + 1]).toBeCloseTo(0.25, 7);
    expect(sum(small.data)).toBeCloseTo(0.25, 7);
  });

  it('is exact for a slanting edge', () => {
    // The triangle below the line from (-0.5, -0.5) to (7.5, 3.5): pixel (x, 0) is cut to known parts.
    const triangle = white([
      { x: -0.5, y: -0.5 },
      { x: 7.5, y: 3.5 },
      { x: -0.5, y: 3.5 },
    ]);
    const { data } = rasterise([triangle], asIs(8, 4));
    expect(data[0]).toBeCloseTo(0.75, 7);
    expect(data[1]).toBeCloseTo(0.25, 7);
    expect(data[2]).toBe(0);
    expect(data[8]).toBe(1);
    expect(sum(data)).toBeCloseTo(16, 5);
  });

  it('agrees with counting fine sample points, for outlines with arcs and holes, cut off by the raster, mirrored or not', () => {
    const random = createRandom(7);
    for (let trial = 0; trial < 6; trial++) {
      const centre = { x: random.between(1, 9), y: random.between(1, 9) };
      const [inner, from] = [random.between(0.5, 2), random.between(0, 360)];
      const [outer, sweep] = [inner + random.between(0.3, 4), random.between(20, 340)];
      const shape = white(sector(centre, inner, outer, from, from + sweep));
      const mirror = trial % 2 === 1;
      const { data } = rasterise([shape], {
        width: 10,
        height: 10,
        toPixel: ({ x, y }) => ({ x: mirror ? 9 - x : x, y }),
      });
      const fine = 64;
      let worst = 0;
      for (let i = 0; i < 100; i++) {
        let inside = 0;
        for (let k = 0; k < fine * fine; k++) {
          const px = (i % 10) - 0.5 + ((k % fine) + 0.5) / fine;
          const y = Math.floor(i / 10) - 0.5 + (Math.floor(k / fine) + 0.5) / fine;
          const [dx, dy] = [(mirror ? 9 - px : px) - centre.x, y - centre.y];
          const r = Math.hypot(dx, dy);
          const angle = ((((Math.atan2(dy, dx) * 180) / Math.PI - from) % 360) + 360) % 360;
          if (r >= inner && r <= outer && angle <= sweep) inside++;
        }
        worst = Math.max(worst, Math.abs(data[i]! - inside / fine ** 2));
      }
      // Counting n x n points in a pixel is itself uncertain by about 1/n where an edge runs along a line of points.
      expect(worst).toBeLessThan(0.012);
    }
  });

  it('leaves holes empty and paints later shapes over earlier ones by their coverage', () => {
    const box = rectangle({ left: -0.5, right: 5.5, bottom: -0.5, top: 5.5 });
    const hole = reversed(rectangle({ left: 1.5, right: 3.5, bottom: 1.5, top: 3.5 }));
    const { data } = rasterise([white(box, hole)], asIs(6, 6));
    expect(data[2 * 6 + 2]).toBe(0);
    expect(sum(data)).toBeCloseTo(32, 5);
    const half = { ...white(rectangle({ left: 0, right: 5.5, bottom: -0.5, top: 5.5 })), level: 0.25 };
    const over = rasterise([white(box), half], asIs(6, 6));
    expect(over.data[0]).toBeCloseTo(0.625, 7);
    expect(over.data[1]).toBe(0.25);
  });

  it('draws nothing for shapes outside the raster', () => {
    const far = white(rectangle({ left: 20, right: 30, bottom: -9, top: 40 }));
    expect(sum(rasterise([far], asIs(6, 6)).data)).toBe(0);
  });
});

describe('marks in a raster', () => {
  const chart = layoutChart(2.35);

  it('cover their exact areas', () => {
    const height = 600;
    for (const mark of chart.marks.slice(0, 40)) {
      const shape = drawMark(mark);
      const exact = shape.contours.reduce((total, contour) => total + areaOf(contour), 0);
      const drawn = sum(rasterise([shape], formOfPicture(chart, height)).data) / height ** 2;
      expect(Math.abs(drawn / exact - 1)).toBeLessThan(1e-4);
    }
  });

  it('have a crossing that a half turn about its centre leaves as it is', () => {
    const crossing: Mark = { id: 'test', eye: 'left', kind: 'inner', x: 0, y: 0, radius: 0.045, word: 0 };
    const form = {
      width: 61,
      height: 61,
      toPixel: ({ x, y }: Mark | { x: number; y: number }) => ({ x: 30 + 611.3 * x, y: 30 - 611.3 * y }),
    };
    const { data } = rasterise([drawMark(crossing)], form);
    let worst = 0;
    for (let i = 0; i < data.length; i++) worst = Math.max(worst, Math.abs(data[i]! - data[data.length - 1 - i]!));
    expect(worst).toBeLessThan(1e-6);
    // The four quadrants share the centre pixel: half of it is bright.
    expect(data[30 * 61 + 30]).toBeCloseTo(0.5, 5);
    // A saddle: bright along the axis at 77 degrees, dark a quarter turn away.
    const at = (angle_deg: number) => {
      const angle = (angle_deg * Math.PI) / 180;
      return data[Math.round(30 - 10 * Math.sin(angle)) * 61 + Math.round(30 + 10 * Math.cos(angle))]!;
    };
    expect([at(77), at(257), at(167), at(-13)]).toEqual([1, 1, 0, 0]);
  });

  it('are exactly white inside and exactly black outside', () => {
    const form = formOfPicture(chart, 872);
    const { data, width } = rasterise(drawPicture(chart, 'left'), form);
    const counts = { white: 0, black: 0 };
    for (const mark of chart.marks.filter(({ eye }) => eye === 'left')) {
      const { x: cx, y: cy } = form.toPixel(mark);
      const radius = mark.radius * 872;
      for (let y = Math.ceil(cy - radius); y < cy + radius; y++) {
        for (let x = Math.ceil(cx - radius); x < cx + radius; x++) {
          const r = Math.hypot(x - cx, y - cy);
          const fromAxis = Math.atan2(cy - y, x - cx) - (77 * Math.PI) / 180;
          // Distance from the two lines in which the quadrants meet.
          const edge = Math.min(
            Math.abs(r * Math.sin(fromAxis + Math.PI / 4)),
            Math.abs(r * Math.cos(fromAxis + Math.PI / 4)),
          );
          const bright = Math.abs(Math.cos(fromAxis)) > Math.SQRT1_2;
          const gap = r > 0.6 * radius + 1 && r < 0.75 * radius - 1;
          if (!gap && !(r < 0.6 * radius - 1 && edge > 1)) continue;
          const white = bright && !gap;
          counts[white ? 'white' : 'black']++;
          expect(data[y * width + x]).toBe(white ? 1 : 0);
        }
      }
    }
    expect(counts.white).toBeGreaterThan(10_000);
    expect(counts.black).toBeGreaterThan(10_000);
  });
});

describe('grey steps in a raster', () => {
  it.each([400, 611, 1744])('at %d px meet without a seam', (height) => {
    const chart = layoutChart(2.35);
    const form = formOfPicture(chart, height);
    for (const strip of chart.greySteps) {
      const { data, width } = rasterise(drawGreySteps(strip), form);
      const cells = greyCells(strip);
      const row = Math.round(form.toPixel(strip).y);
      for (const [i, cell] of cells.entries()) {
        const [from, to] = [form.toPixel({ x: cell.left, y: 0 }).x, form.toPixel({ x: cell.right, y: 0 }).x];
        for (let column = Math.ceil(from + 0.5); column <= Math.floor(to - 0.5); column++) {
          expect(data[row * width + column]).toBe(cell.level);
        }
        const next = cells[i + 1];
        if (!next) continue;
        // The pixel that two steps share holds their mean by area.
        const column = Math.round(to);
        const part = to + 0.5 - column;
        expect(data[row * width + column]).toBeCloseTo(part * cell.level + (1 - part) * next.level, 6);
      }
    }
  });
});

describe('speed', () => {
  it('rasterises a picture 4096 px high within a few seconds', () => {
    const chart = layoutChart(2.35);
    const start = performance.now();
    const picture = rasterise(drawPicture(chart, 'right'), formOfPicture(chart, 4096));
    const seconds = (performance.now() - start) / 1000;
    console.log(`picture of ${picture.width} x ${picture.height} px: ${seconds.toFixed(2)} s`);
    expect(picture.width).toBe(9626);
    expect(seconds).toBeLessThan(10);
  });
});

describe('coding a raster in 8-bit sRGB', () => {
  it('takes the nearest code, and clips what is out of range', () => {
    const data = Float32Array.from([0, 1, 0.5, 0.25, 0.125, 0.0625, -0.1, 1.2]);
    const { data: codes, channels } = codePicture({ width: 8, height: 1, data });
    expect(channels).toBe(1);
    // IEC 61966-2-1: linear 0.5 is 187.52 of 255, 0.25 is 136.96, 0.125 is 99.18, 0.0625 is 70.71.
    expect([...codes]).toEqual([0, 255, 188, 137, 99, 71, 0, 255]);
  });

  it('gives every code back', () => {
    const data = Float32Array.from({ length: 256 }, (_, code) => linearFromSrgb(code / 255));
    expect([...codePicture({ width: 256, height: 1, data }).data]).toEqual([...Array(256).keys()]);
  });
});
