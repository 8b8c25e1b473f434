/**
 * Plain block letters and figures for the target: L E F T R I G H, 0 to 9 and %.
 *
 * A glyph is one unit high and stands on y = 0 with its left side on x = 0. All strokes have the same width.
 */
import { type Contour, place, rectangle, reversed } from './shapes.ts';

export interface Glyph {
  readonly width: number;
  readonly contours: readonly Contour[];
}

const FIGURE_WIDTH = 0.62;
const LETTER_GAP = 0.17;

/** The glyph of one character with strokes `s` wide, 0.1 to 0.2. Throws RangeError for a character that is not drawn. */
export function drawGlyph(character: string, s: number): Glyph {
  const draw = GLYPHS[character];
  if (!draw) throw new RangeError(`no letter is drawn for "${character}"`);
  return draw(s);
}

/** One line of text, one unit high, from x = 0. */
export function drawText(text: string, stroke: number): Glyph {
  let x = 0;
  const contours: Contour[] = [];
  for (const character of text) {
    if (x > 0) x += LETTER_GAP;
    const glyph = drawGlyph(character, stroke);
    contours.push(...glyph.contours.map((contour) => place(contour, { x, y: 0 }, 1)));
    x += glyph.width;
  }
  return { width: x, contours };
}

type Draw = (stroke: number) => Glyph;

const outline = (width: number, ...corners: readonly (readonly [number, number])[]): Glyph => ({
  width,
  contours: [corners.map(([x, y]) => ({ x, y }))],
});

const letterL: Draw = (s) => outline(0.58, [0, 0], [0.58, 0], [0.58, s], [s, s], [s, 1], [0, 1]);

const letterE: Draw = (s) => {
  const w = 0.6;
  const [low, high] = [0.5 - s / 2, 0.5 + s / 2];
  return outline(
    w,
    [0, 0],
    [w, 0],
    [w, s],
    [s, s],
    [s, low],
    [0.9 * w, low],
    [0.9 * w, high],
    [s, high],
    [s, 1 - s],
    [w, 1 - s],
    [w, 1],
    [0, 1],
  );
};

const letterF: Draw = (s) => {
  const w = 0.58;
  const [low, high] = [0.48 - s / 2, 0.48 + s / 2];
  return outline(
    w,
    [0, 0],
    [s, 0],
    [s, low],
    [0.9 * w, low],
    [0.9 * w, high],
    [s, high],
    [s, 1 - s],
    [w, 1 - s],
    [w, 1],
    [0, 1],
  );
};

const letterT: Draw = (s) => {
  const w = 0.66;
  const [l, r] = [(w - s) / 2, (w + s) / 2];
  return outline(w, [l, 0], [r, 0], [r, 1 - s], [w, 1 - s], [w, 1], [0, 1], [0, 1 - s], [l, 1 - s]);
};

const letterI: Draw = (s) => ({ width: s, contours: [rectangle({ left: 0, right: s, bottom: 0, top: 1 })] });

const letterH: Draw = (s) => {
  const w = 0.68;
  const [low, high] = [0.5 - s / 2, 0.5 + s / 2];
  return outline(
    w,
    [0, 0],
    [s, 0],
    [s, low],
    [w - s, low],
    [w - s, 0],
    [w, 0],
    [w, 1],
    [w - s, 1],
    [w - s, high],
    [s, high],
    [s, 1],
    [0, 1],
  );
};

const letterR: Draw = (s) => {
  const w = 0.68;
  const bowlFoot = 0.42;
  const r = (1 - bowlFoot) / 2;
  const bowl = { x: w - 0.03 - r, y: 1 - r };
  const legTop = { x: bowl.x + r * Math.cos(Math.PI / 3), y: bowl.y - r * Math.sin(Math.PI / 3) };
  const legWidth = 1.12 * s;
  const legInside = w - legWidth - (w - legTop.x) * (bowlFoot / legTop.y);
  return {
    width: w,
    contours: [
      [
        { x: 0, y: 0 },
        { x: s, y: 0 },
        { x: s, y: bowlFoot },
        { x: legInside, y: bowlFoot },
        { x: w - legWidth, y: 0 },
        { x: w, y: 0 },
        { ...bowl, radius: r, from_deg: -60, to_deg: 90 },
        { x: 0, y: 1 },
      ],
      reversed([
        { x: s, y: bowlFoot + s },
        { ...bowl, radius: r - s, from_deg: -90, to_deg: 90 },
        { x: s, y: 1 - s },
      ]),
    ],
  };
};

const letterG: Draw = (s) => {
  const w = 0.74;
  const r = w / 2;
  const [head, foot] = [
    { x: r, y: 1 - r },
    { x: r, y: r },
  ];
  const barTop = 0.52;
  const barFoot_deg = (Math.asin((barTop - s - r) / (r - s)) * 180) / Math.PI;
  return {
    width: w,
    contours: [
      [
        { ...head, radius: r, from_deg: 32, to_deg: 180 },
        { ...foot, radius: r, from_deg: 180, to_deg: 360 },
        { x: w, y: barTop },
        { x: 0.5 * w, y: barTop },
        { x: 0.5 * w, y: barTop - s },
        { ...foot, radius: r - s, from_deg: 360 + barFoot_deg, to_deg: 180 },
        { ...head, radius: r - s, from_deg: 180, to_deg: 32 },
      ],
    ],
  };
};

const figure0: Draw = (s) => {
  const r = FIGURE_WIDTH / 2;
  const round = (radius: number): Contour => [
    { x: r, y: 1 - r, radius, from_deg: 0, to_deg: 180 },
    { x: r, y: r, radius, from_deg: 180, to_deg: 360 },
  ];
  return { width: FIGURE_WIDTH, contours: [round(r), reversed(round(r - s))] };
};

const figure1: Draw = (s) => {
  // The stem stands in the middle of the figure's width, so that columns of figures line up.
  const [l, r] = [FIGURE_WIDTH / 2 - s / 2 + 0.06, FIGURE_WIDTH / 2 + s / 2 + 0.06];
  const flag = l - 0.2;
  return outline(
    FIGURE_WIDTH,
    [l, 0],
    [r, 0],
    [r, 1],
    [l + 0.1 * s, 1],
    [flag, 0.8],
    [flag, 0.8 - 1.15 * s],
    [l, 0.98 - 1.15 * s],
  );
};

const figure2: Draw = (s) => {
  const w = FIGURE_WIDTH;
  const r = w / 2;
  const head = { x: r, y: 1 - r };
  const lean = (38 * Math.PI) / 180;
  // The slanting stroke leaves the bowl along its tangent.
  const outer = { x: head.x + r * Math.cos(lean), y: head.y - r * Math.sin(lean) };
  const inner = { x: head.x + (r - s) * Math.cos(lean), y: head.y - (r - s) * Math.sin(lean) };
  return {
    width: w,
    contours: [
      [
        { x: 0, y: 0 },
        { x: w, y: 0 },
        { x: w, y: s },
        { x: outer.x - (outer.y - s) * Math.tan(lean), y: s },
        { ...head, radius: r, from_deg: -38, to_deg: 175 },
        { ...head, radius: r - s, from_deg: 175, to_deg: -38 },
        { x: 0, y: Math.max(0, inner.y - inner.x / Math.tan(lean)) },
      ],
    ],
  };
};

/** The two round halves of 3 and 8, one stroke shared, and the angle at which their outlines cross. */
function bowls(s: number) {
  const r = (1 + s) / 4;
  const waist_deg = (Math.asin((0.5 - r) / r) * 180) / Math.PI;
  return { r, waist_deg, upper: { x: r, y: 1 - r }, lower: { x: r, y: r } };
}

const figure3: Draw = (s) => {
  const { r, waist_deg, upper, lower } = bowls(s);
  return {
    width: 2 * r,
    contours: [
      [
        { ...lower, radius: r, from_deg: 195, to_deg: 360 + waist_deg },
        { ...upper, radius: r, from_deg: -waist_deg, to_deg: 165 },
        { ...upper, radius: r - s, from_deg: 165, to_deg: -90 },
        { x: 0.75 * r, y: 0.5 + s / 2 },
        { x: 0.75 * r, y: 0.5 - s / 2 },
        { ...lower, radius: r - s, from_deg: 90, to_deg: -165 },
      ],
    ],
  };
};

const figure4: Draw = (s) => {
  const w = FIGURE_WIDTH;
  const [stem, bar] = [w - s - 0.1, 0.2];
  const top = bar + s;
  const slope = (1 - top) / stem;
  const start = 1.25 * s;
  return {
    width: w,
    contours: [
      [
        { x: stem, y: 0 },
        { x: stem + s, y: 0 },
        { x: stem + s, y: bar },
        { x: w, y: bar },
        { x: w, y: top },
        { x: stem + s, y: top },
        { x: stem + s, y: 1 },
        { x: stem, y: 1 },
        { x: 0, y: top },
        { x: 0, y: bar },
        { x: stem, y: bar },
      ],
      [
        { x: start, y: top },
        { x: stem, y: top + slope * (stem - start) },
        { x: stem, y: top },
      ],
    ],
  };
};

const figure5: Draw = (s) => {
  const w = FIGURE_WIDTH;
  const r = w / 2;
  const bowl = { x: r, y: r };
  return {
    width: w,
    contours: [
      [
        { ...bowl, radius: r, from_deg: 195, to_deg: 450 },
        { x: s, y: 2 * r },
        { x: s, y: 1 - s },
        { x: 0.95 * w, y: 1 - s },
        { x: 0.95 * w, y: 1 },
        { x: 0, y: 1 },
        { x: 0, y: 2 * r - s },
        { ...bowl, radius: r - s, from_deg: 90, to_deg: -165 },
      ],
    ],
  };
};

const figure6: Draw = (s) => {
  const r = FIGURE_WIDTH / 2;
  const [head, bowl] = [
    { x: r, y: 1 - r },
    { x: r, y: r },
  ];
  const stem_deg = (Math.acos((s - r) / r) * 180) / Math.PI;
  return {
    width: FIGURE_WIDTH,
    contours: [
      [
        { ...head, radius: r, from_deg: 25, to_deg: 180 },
        { ...bowl, radius: r, from_deg: 180, to_deg: 360 + stem_deg },
        { ...head, radius: r - s, from_deg: 180, to_deg: 25 },
      ],
      [{ ...bowl, radius: r - s, from_deg: 360, to_deg: 0 }],
    ],
  };
};

const figure7: Draw = (s) => {
  const w = FIGURE_WIDTH;
  return outline(w, [0.12, 0], [0.12 + 1.12 * s, 0], [w, 1 - s], [w, 1], [0, 1], [0, 1 - s], [w - 1.14 * s, 1 - s]);
};

const figure8: Draw = (s) => {
  const { r, waist_deg, upper, lower } = bowls(s);
  return {
    width: 2 * r,
    contours: [
      [
        { ...lower, radius: r, from_deg: 180 - waist_deg, to_deg: 360 + waist_deg },
        { ...upper, radius: r, from_deg: -waist_deg, to_deg: 180 + waist_deg },
      ],
      [{ ...lower, radius: r - s, from_deg: 360, to_deg: 0 }],
      [{ ...upper, radius: r - s, from_deg: 360, to_deg: 0 }],
    ],
  };
};

/** A 6 turned by half a turn. */
const figure9: Draw = (s) => {
  const { width, contours } = figure6(s);
  const turned = contours.map((contour) =>
    contour.map((piece) => {
      const moved = { x: width - piece.x, y: 1 - piece.y };
      return 'radius' in piece
        ? { ...moved, radius: piece.radius, from_deg: piece.from_deg + 180, to_deg: piece.to_deg + 180 }
        : moved;
    }),
  );
  return { width, contours: turned };
};

const percent: Draw = (s) => {
  const w = 1.06;
  const r = 0.215;
  const thin = 0.85 * s;
  const ring = (x: number, y: number): Contour[] => [
    [{ x, y, radius: r, from_deg: 0, to_deg: 360 }],
    [{ x, y, radius: r - thin, from_deg: 360, to_deg: 0 }],
  ];
  const slash: Contour = [
    { x: 0.24, y: 0 },
    { x: 0.24 + 1.1 * thin, y: 0 },
    { x: w - 0.24, y: 1 },
    { x: w - 0.24 - 1.1 * thin, y: 1 },
  ];
  return { width: w, contours: [slash, ...ring(r, 1 - r), ...ring(w - r, r)] };
};

const GLYPHS: Readonly<Record<string, Draw>> = {
  L: letterL,
  E: letterE,
  F: letterF,
  T: letterT,
  R: letterR,
  I: letterI,
  G: letterG,
  H: letterH,
  '0': figure0,
  '1': figure1,
  '2': figure2,
  '3': figure3,
  '4': figure4,
  '5': figure5,
  '6': figure6,
  '7': figure7,
  '8': figure8,
  '9': figure9,
  '%': percent,
};
