import { describe, expect, it } from 'vitest';
import { EYES, type Eye, otherEye } from '../../src/kernel/eye.ts';
import { BRIGHT_AXIS_DEG, type Chart, layoutChart, MARK_PROPORTIONS, type Place } from '../../src/target/chart.ts';
import { drawMark, drawPicture, litRuns } from '../../src/target/draw-picture.ts';
import { formOfPicture, rasterise } from '../../src/target/rasterise.ts';
import { flatten, type Shape } from '../../src/target/shapes.ts';
import { areaOf } from './area-of.ts';

const NAMED_SHAPES = [1.33, 1.37, 1.66, 1.85, 2.2, 2.35, 2.39, 2.6];

function boxOf(shapes: readonly Shape[]) {
  const corners = shapes.flatMap(({ contours }) => contours.flatMap((contour) => flatten(contour, 1e-5)));
  const [xs, ys] = [corners.map(({ x }) => x), corners.map(({ y }) => y)];
  return { left: Math.min(...xs), right: Math.max(...xs), bottom: Math.min(...ys), top: Math.max(...ys) };
}

function expectWithin(shapes: readonly Shape[], place: Omit<Place, 'eye'>) {
  expect(shapes.length).toBeGreaterThan(0);
  const box = boxOf(shapes);
  const slack = 1e-12;
  expect(box.left).toBeGreaterThanOrEqual(place.x - place.width / 2 - slack);
  expect(box.right).toBeLessThanOrEqual(place.x + place.width / 2 + slack);
  expect(box.bottom).toBeGreaterThanOrEqual(place.y - place.height / 2 - slack);
  expect(box.top).toBeLessThanOrEqual(place.y + place.height / 2 + slack);
}

const partsOf = (chart: Chart, eye: Eye, part: string) =>
  drawPicture(chart, eye).filter((shape) => shape.part === part);

describe('lit runs of a ring', () => {
  it('join neighbouring sectors, also past the start', () => {
    expect(litRuns(0b1)).toEqual([{ first: 0, count: 1 }]);
    expect(litRuns(0b0110)).toEqual([{ first: 1, count: 2 }]);
    expect(litRuns(0b1100_0000_0000_0001)).toEqual([{ first: 14, count: 3 }]);
    expect(litRuns(0)).toEqual([]);
    expect(litRuns(0xffff)).toEqual([{ first: 0, count: 16 }]);
  });
});

describe('a drawn mark', () => {
  it('has the area of its two quadrants and lit sectors', () => {
    for (const mark of layoutChart(2.35).marks) {
      const { crossing, ringInner, ringOuter } = MARK_PROPORTIONS;
      const lit = mark.word.toString(2).replaceAll('0', '').length;
      const exact = Math.PI * mark.radius ** 2 * (crossing ** 2 / 2 + ((ringOuter ** 2 - ringInner ** 2) * lit) / 16);
      const drawn = drawMark(mark).contours.reduce((total, contour) => total + areaOf(contour), 0);
      expect(drawn).toBeCloseTo(exact, 12);
    }
  });

  it('shows bit j of its word in the ring sector j sixteenths counter-clockwise from the bright axis', () => {
    const chart = layoutChart(1.85);
    for (const eye of EYES) {
      const form = formOfPicture(chart, 1744);
      const { data, width } = rasterise(drawPicture(chart, eye), form);
      for (const mark of chart.marks.filter((candidate) => candidate.eye === eye)) {
        let word = 0;
        for (let j = 0; j < 16; j++) {
          const angle = ((BRIGHT_AXIS_DEG[eye] + (j + 0.5) * 22.5) * Math.PI) / 180;
          const r = mark.radius * 0.875;
          const { x, y } = form.toPixel({ x: mark.x + r * Math.cos(angle), y: mark.y + r * Math.sin(angle) });
          if (data[Math.round(y) * width + Math.round(x)]! > 0.5) word |= 1 << j;
        }
        expect(word).toBe(mark.word);
      }
    }
  });
});

describe.each(NAMED_SHAPES)('the pictures of a chart of shape %s', (aspect) => {
  const chart = layoutChart(aspect);

  it('stay inside the picture area', () => {
    for (const eye of EYES) expectWithin(drawPicture(chart, eye), { x: 0, y: 0, width: aspect, height: 1 });
  });

  it('keep words, grey steps and ladders inside their places', () => {
    for (const lettering of chart.lettering) {
      const shapes = partsOf(chart, lettering.eye, `lettering-${lettering.eye}`);
      expectWithin(shapes, lettering);
      const box = boxOf(shapes);
      expect(box.top - box.bottom).toBeGreaterThan(0.075);
    }
    for (const strip of chart.greySteps) expectWithin(partsOf(chart, strip.eye, `grey-steps-${strip.eye}`), strip);
    for (const ladder of chart.ladders) {
      expectWithin(partsOf(chart, ladder.eye, `ladder-${ladder.eye}-${ladder.edge}`), ladder);
    }
  });

  it('never meet while the eyes are within 3 % of each other both ways', () => {
    const height = 400;
    const form = formOfPicture(chart, height);
    const [left, right] = EYES.map((eye) => rasterise(drawPicture(chart, eye), form));
    const reach = Math.round(0.03 * height);
    // All shifts at once: the right picture spread by the greatest shift both ways.
    const spread = spreadBy(right!.data, form.width, form.height, reach);
    let meeting = 0;
    left!.data.forEach((value, i) => {
      if (value > 0 && spread[i]! > 0) meeting++;
    });
    expect(meeting).toBe(0);
    // The check itself can fail: a much larger shift does bring them together.
    const far = spreadBy(right!.data, form.width, form.height, 3 * reach);
    expect(left!.data.some((value, i) => value > 0 && far[i]! > 0)).toBe(true);
  });

  it('are mostly black', () => {
    for (const eye of EYES) {
      const { data } = rasterise(drawPicture(chart, eye), formOfPicture(chart, 400));
      const light = data.reduce((total, value) => total + value, 0) / data.length;
      const lit = data.reduce((count, value) => count + (value > 0 ? 1 : 0), 0) / data.length;
      console.log(`${aspect} ${eye}: mean light ${(100 * light).toFixed(2)} %, not black ${(100 * lit).toFixed(2)} %`);
      expect(lit).toBeLessThan(0.25);
      expect(light).toBeGreaterThan(0.03);
    }
  });

  it("leave the other eye's words, grey steps and ladders black", () => {
    for (const eye of EYES) {
      const form = formOfPicture(chart, 400);
      const { data, width } = rasterise(drawPicture(chart, eye), form);
      for (const place of [...chart.lettering, ...chart.greySteps, ...chart.ladders]) {
        if (place.eye !== otherEye(eye)) continue;
        const a = form.toPixel({ x: place.x - place.width / 2, y: place.y + place.height / 2 });
        const b = form.toPixel({ x: place.x + place.width / 2, y: place.y - place.height / 2 });
        for (let y = Math.ceil(a.y); y <= Math.min(b.y, form.height - 1); y++) {
          for (let x = Math.ceil(a.x); x <= Math.min(b.x, form.width - 1); x++) expect(data[y * width + x]).toBe(0);
        }
      }
    }
  });
});

function spreadBy(data: Float32Array, width: number, height: number, reach: number): Float32Array {
  const rows = new Float32Array(data.length);
  const both = new Float32Array(data.length);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (data[y * width + x]! === 0) continue;
      for (let k = Math.max(0, x - reach); k <= Math.min(width - 1, x + reach); k++) rows[y * width + k] = 1;
    }
  }
  for (let y = 0; y < height; y++) {
    for (let k = Math.max(0, y - reach); k <= Math.min(height - 1, y + reach); k++) {
      for (let x = 0; x < width; x++) if (rows[k * width + x]! > 0) both[y * width + x] = 1;
    }
  }
  return both;
}
