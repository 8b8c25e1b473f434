import { describe, expect, it } from 'vitest';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';
import { EYES } from '../../src/kernel/eye.ts';
import { layoutChart, MARK_PROPORTIONS } from '../../src/target/chart.ts';
import { drawSvg } from '../../src/target/draw-svg.ts';
import { layoutFilmFrame } from '../../src/target/film-frame.ts';
import { layoutFilmSheet, layoutPictureSheet } from '../../src/target/sheet.ts';

const chart = layoutChart(2.35);

/** The numbers of one path, command by command. */
function commandsOf(path: string): { letter: string; numbers: number[] }[] {
  return [...path.matchAll(/([MLAZ])([^MLAZ]*)/g)].map(([, letter, rest]) => ({
    letter: letter!,
    numbers: rest!.trim() === '' ? [] : rest!.trim().split(/[ ,]+/).map(Number),
  }));
}

function pathOf(svg: string, part: string): string {
  const found = new RegExp(`data-part="${part}" fill="[^"]*" d="([^"]*)"`).exec(svg);
  if (!found) throw new Error(`no path for ${part}`);
  return found[1]!;
}

describe('the picture of an eye as SVG', () => {
  it('has every mark at its place with its radii, in thousandths of the picture height', () => {
    for (const eye of EYES) {
      const svg = drawSvg(layoutPictureSheet(chart, eye));
      expect(svg).toContain('viewBox="0 0 2350 1000"');
      for (const mark of chart.marks.filter((candidate) => candidate.eye === eye)) {
        const commands = commandsOf(pathOf(svg, mark.id));
        const [cx, cy] = [1000 * (mark.x + 2.35 / 2), 1000 * (0.5 - mark.y)];
        expect(commands[0]!.numbers[0]).toBeCloseTo(cx, 5);
        expect(commands[0]!.numbers[1]).toBeCloseTo(cy, 5);
        const { crossing, ringInner, ringOuter } = MARK_PROPORTIONS;
        const allowed = [crossing, ringInner, ringOuter].map((part) => 1000 * part * mark.radius);
        for (const { letter, numbers } of commands) {
          if (letter === 'Z') continue;
          const r = Math.hypot(numbers.at(-2)! - cx, numbers.at(-1)! - cy);
          expect(Math.min(...[0, ...allowed].map((a) => Math.abs(a - r)))).toBeLessThan(2e-6);
          if (letter === 'A') expect(r).toBeCloseTo(numbers[0]!, 5);
        }
      }
    }
  });

  it('codes the grey steps in sRGB', () => {
    const svg = drawSvg(layoutPictureSheet(chart, 'left'));
    const fills = [...svg.matchAll(/data-part="grey-steps-left" fill="([^"]*)"/g)].map(([, fill]) => fill!);
    const levels = fills.map((fill) => {
      if (fill === '#fff') return 1;
      if (fill === '#000') return 0;
      const [r, g, b] = [...fill.matchAll(/([\d.]+)%/g)].map(([, value]) => Number(value) / 100);
      expect([g, b]).toEqual([r, r]);
      return linearFromSrgb(r!);
    });
    for (const [i, level] of [1, 0.5, 0.25, 0.125, 0.0625, 0, 1].entries()) expect(levels[i]).toBeCloseTo(level, 5);
  });

  it('is the same text every time', () => {
    expect(drawSvg(layoutPictureSheet(chart, 'right'))).toBe(drawSvg(layoutPictureSheet(chart, 'right')));
  });
});

describe('the film frame as SVG', () => {
  const frame = layoutFilmFrame({ centreToCentre_in: 0.387, aspect: 2.35 });
  const svg = drawSvg(layoutFilmSheet(chart, frame));

  it('is as large as four perforations of 35 mm film', () => {
    expect(svg).toContain('width="34.975mm" height="19mm" viewBox="0 0 34.975 19"');
  });

  it('has every mark where the film frame puts it, to a micrometre', () => {
    let worst_mm = 0;
    for (const picture of frame.pictures) {
      for (const mark of chart.marks.filter(({ eye }) => eye === picture.eye)) {
        const [x, y] = commandsOf(pathOf(svg, mark.id))[0]!.numbers;
        const exact_x = 18.735 + (mark.x * 20.95) / 2.35;
        const sign = picture.eye === 'right' ? 1 : -1;
        const exact_y = 9.5 - ((sign * 0.387 * 25.4) / 2 + (mark.y * 20.95) / 2.35);
        worst_mm = Math.max(worst_mm, Math.abs(x! - exact_x), Math.abs(y! - exact_y));
      }
    }
    expect(worst_mm).toBeLessThan(0.001);
    expect(worst_mm).toBeGreaterThan(0);
  });

  it('keeps guides in a group of their own, with the picture edges and perforations at their heights', () => {
    const [picture, guides] = svg.split('<g id="guides"');
    expect(picture).not.toContain('stroke');
    const lines = [...guides!.matchAll(/d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"/g)].map((m) => m.slice(1).map(Number));
    const ticks = lines.filter(([x1, y1, x2, y2]) => y1 === y2 && Math.abs(x2! - x1!) < 1.5).map(([, y]) => y!);
    expect([...new Set(ticks)].sort((a, b) => a - b)).toEqual([2.375, 7.125, 11.875, 16.625]);
    const h = 20.95 / 2.35;
    const edges = [-1, 1].flatMap((sign) => [-h / 2, h / 2].map((e) => 9.5 + (sign * 0.387 * 25.4) / 2 + e));
    const across = lines.filter(([x1, y1, x2, y2]) => y1 === y2 && Math.abs(x2! - x1!) > 20).map(([, y]) => y!);
    for (const edge of edges) expect(Math.min(...across.map((y) => Math.abs(y - edge)))).toBeLessThan(0.001);
    const sides = lines.filter(([x1, , x2]) => x1 === x2).map(([x]) => x!);
    expect([...new Set(sides)].sort((a, b) => a - b)).toEqual([0, 8.26, 29.21, 34.975]);
  });
});
