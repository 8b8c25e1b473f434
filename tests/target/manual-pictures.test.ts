/**
 * The pictures of the manual page on the target are what the program draws today.
 * After a wanted change of the drawing: `WRITE_MANUAL_PICTURES=1 npx vitest run --config build/vitest.config.ts tests/target/manual-pictures.test.ts`.
 */
import { readFile, stat, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/kernel/point.ts';
import { encodePng } from '../../src/photo/write-photo.ts';
import { layoutChart } from '../../src/target/chart.ts';
import { drawLadder } from '../../src/target/draw-ladder.ts';
import { drawMark, drawPicture } from '../../src/target/draw-picture.ts';
import { layoutFilmFrame } from '../../src/target/film-frame.ts';
import { formOfPicture, rasterise, codePicture } from '../../src/target/rasterise.ts';
import { place, rectangle, type Shape } from '../../src/target/shapes.ts';
import { GUIDE_WIDTH_MM, layoutFilmSheet } from '../../src/target/sheet.ts';

const chart = layoutChart(2.35);

function picture(eye: 'left' | 'right') {
  return rasterise(drawPicture(chart, eye), formOfPicture(chart, 500));
}

/** A mark of each eye side by side, 300 px each. */
function marks() {
  const shapes = (['L-1-03', 'R-1-04'] as const).map((id, i): Shape => {
    const mark = chart.marks.find((candidate) => candidate.id === id)!;
    const shape = drawMark(mark);
    const shift = { x: 0.06 + 0.12 * i - mark.x, y: 0.06 - mark.y };
    return { ...shape, contours: shape.contours.map((contour) => place(contour, shift, 1)) };
  });
  return rasterise(shapes, {
    width: 600,
    height: 300,
    toPixel: ({ x, y }) => ({ x: 2500 * x - 0.5, y: 299.5 - 2500 * y }),
  });
}

/** A top ladder and a left ladder, enlarged. */
function ladders() {
  const [top, side] = (['top', 'left'] as const).map((edge) => chart.ladders.find((ladder) => ladder.edge === edge)!);
  const scale = 4000;
  const moveTo = (ladder: typeof top, corner: Point): Shape => {
    const shape = drawLadder(ladder);
    const shift = { x: corner.x - ladder.x + ladder.width / 2, y: corner.y - ladder.y - ladder.height / 2 };
    return { ...shape, contours: shape.contours.map((contour) => place(contour, shift, 1)) };
  };
  const shapes = [moveTo(top, { x: 0.02, y: 0 }), moveTo(side, { x: 0.14, y: -0.0025 })];
  return rasterise(shapes, {
    width: 1000,
    height: 420,
    toPixel: ({ x, y }) => ({ x: scale * x - 0.5, y: -scale * y - 0.5 }),
  });
}

/** The film frame with its guides in grey. */
function twoUp() {
  const sheet = layoutFilmSheet(chart, layoutFilmFrame({ centreToCentre_in: 0.375, aspect: 2.35 }));
  const half = GUIDE_WIDTH_MM;
  const guides = sheet.guides.map(({ x1, y1, x2, y2 }): Shape => {
    const box = {
      left: Math.min(x1, x2) - half,
      right: Math.max(x1, x2) + half,
      bottom: Math.min(y1, y2) - half,
      top: Math.max(y1, y2) + half,
    };
    return { part: 'guide', level: 0.3, contours: [rectangle(box)] };
  });
  return rasterise([...sheet.layers.flatMap(({ shapes }) => shapes), ...guides], {
    width: 1399,
    height: 760,
    toPixel: ({ x, y }) => ({ x: 40 * x - 0.5, y: 40 * (9.5 - y) - 0.5 }),
  });
}

const PICTURES = {
  'target-left.png': () => picture('left'),
  'target-right.png': () => picture('right'),
  'target-marks.png': marks,
  'target-ladders.png': ladders,
  'target-two-up.png': twoUp,
};

describe('the manual page on the target', () => {
  it.each(Object.entries(PICTURES))('shows %s as it is drawn', async (name, draw) => {
    const path = fileURLToPath(new URL(`../../src/manual/pictures/${name}`, import.meta.url));
    const drawn = codePicture(draw());
    if (process.env.WRITE_MANUAL_PICTURES) await writeFile(path, await encodePng(drawn));
    const { data, info } = await sharp(await readFile(path))
      .greyscale()
      .raw()
      .toBuffer({ resolveWithObject: true });
    expect([info.width, info.height]).toEqual([drawn.width, drawn.height]);
    expect(Buffer.compare(data, Buffer.from(drawn.data))).toBe(0);
    expect((await stat(path)).size).toBeLessThan(150_000);
  });

  it('shows every one of them', async () => {
    const page = await readFile(new URL('../../src/manual/target.md', import.meta.url), 'utf8');
    for (const name of Object.keys(PICTURES)) expect(page).toContain(`](pictures/${name})`);
  });
});
