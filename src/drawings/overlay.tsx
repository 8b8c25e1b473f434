/**
 * The two photographs laid over each other with the misalignment drawn on top: arrows from the left-eye picture's
 * points towards the right-eye picture's, lengthened by a stated factor, and the marks that were measured.
 */
import type { ReactNode } from 'react';
import type { Point } from '../kernel/point.ts';
import { project, type View } from '../kernel/view.ts';
import type { FieldEvidence, MeasuredReading } from '../record/reading.ts';
import { formatAmount, formatPlace } from '../wording/terms.ts';
import { translate } from '../wording/translate.ts';
import {
  ARROW_ROOM_IH,
  chooseArrowFactor,
  longestDisplacement,
  makeArrow,
  outlinePicture,
  type Region,
  viewOf,
} from './overlay-geometry.ts';
import {
  drawArrows,
  drawMarks,
  drawOutline,
  drawWorst,
  OVERLAY_LEFT,
  OVERLAY_RIGHT,
  type Pen,
} from './overlay-layers.ts';

/** Arrows stand at least this far apart, in ih. */
const MIN_SPACING_IH = 0.16;
/** Drawing px. */
const WIDTH = 1000;

export interface OverlayProps {
  readonly reading: MeasuredReading;
  /** Both photographs as one picture, and the part of them that it shows; null where they are not shown. */
  readonly picture: { readonly dataUri: string; readonly region: Region } | null;
  /** How many times as long arrows are drawn, where drawings are compared. */
  readonly factor?: number;
}

export function Overlay({ reading, picture, factor = chooseArrowFactor(reading) }: OverlayProps) {
  const { evidence, house, misalignment } = reading;
  const left = viewOf(evidence, 'left');
  const outline = outlinePicture(left, house.aspect);
  const region = picture?.region ?? regionAround(outline);
  const view = { scale: WIDTH / region.width, corner: { x: region.x, y: region.y } };
  const height = Math.round(view.scale * region.height);
  const longest_pct = longestDisplacement(evidence.field);
  const worst = misalignment.worst_vertical_pct;
  const pen = new SvgPen();
  drawOutline(pen, outline, view);
  drawMarks(pen, evidence.marks, view, 0);
  drawArrows(pen, arrowsOf(evidence.field, left, factor), view);
  drawWorst(pen, project(left, { x: worst.at[0], y: worst.at[1] }), view);
  return (
    <figure>
      <svg
        className="overlay"
        viewBox={`0 0 ${WIDTH} ${height}`}
        role="img"
        aria-label={translate('report.overlay-label', { factor })}
      >
        {picture && (
          <image href={picture.dataUri} width={WIDTH} height={height} preserveAspectRatio="none" opacity="0.8" />
        )}
        {pen.render()}
      </svg>
      <figcaption>
        <Key
          mark={
            <>
              <path d="M2 8H24" stroke="var(--ink)" strokeWidth="3" />
              <path d="M31 8 22 2.5v11Z" fill="var(--ink)" />
            </>
          }
        >
          {translate('report.overlay-arrows', { factor, longest: formatAmount(longest_pct, '%') })}
        </Key>
        <Key mark={<rect width="32" height="16" fill={OVERLAY_LEFT} />}>{translate('report.overlay-left')}</Key>
        <Key mark={<rect width="32" height="16" fill={OVERLAY_RIGHT} />}>{translate('report.overlay-right')}</Key>
        <Key mark={<path d="M10 2 22 14M22 2 10 14" stroke="var(--ink)" strokeWidth="2.5" />}>
          {translate('report.overlay-unused')}
        </Key>
        <Key mark={<rect x="9" y="1" width="14" height="14" fill="none" stroke="var(--ink)" strokeWidth="2" />}>
          {translate('report.overlay-worst', {
            amount: formatAmount(worst.value, '%'),
            place: formatPlace(worst.at, house.aspect),
          })}
        </Key>
      </figcaption>
    </figure>
  );
}

function Key({ mark, children }: { readonly mark: ReactNode; readonly children: ReactNode }) {
  return (
    <span>
      <svg viewBox="0 0 32 16" aria-hidden="true">
        {mark}
      </svg>
      {children}
    </span>
  );
}

/** Arrows on a coarser grid out of the field's grid, even about the picture's centre. */
function arrowsOf(field: readonly FieldEvidence[], left: View, factor: number) {
  const kept = ([0, 1] as const).map((axis) => {
    const lines = [...new Set(field.map((point) => point.at[axis]))].sort((a, b) => a - b);
    const step = (lines.at(-1)! - lines[0]!) / Math.max(1, lines.length - 1);
    const stride = Math.max(1, Math.ceil(MIN_SPACING_IH / step - 1e-6));
    const first = Math.floor(((lines.length - 1) % stride) / 2);
    return new Set(lines.filter((_, i) => i >= first && (i - first) % stride === 0));
  });
  return field
    .filter((point) => kept[0]!.has(point.at[0]) && kept[1]!.has(point.at[1]))
    .map((point) => makeArrow(point, left, factor));
}

/** The picture area with room for arrows around it, when no photograph is shown. */
function regionAround(outline: readonly Point[]): Region {
  const [xs, ys] = [outline.map(({ x }) => x), outline.map(({ y }) => y)];
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  const [width, height] = [Math.max(...xs) - x, Math.max(...ys) - y];
  const margin = ARROW_ROOM_IH * height;
  return { x: x - margin, y: y - margin, width: width + 2 * margin, height: height + 2 * margin };
}

/** A pen that writes SVG: what a layer draws on the screen's canvas it draws into a report by this. */
interface Stroke {
  readonly d: string;
  readonly fill: string;
  readonly stroke: string;
  readonly strokeWidth?: number;
  readonly strokeDasharray?: string;
  readonly strokeLinecap?: Pen['lineCap'];
  readonly strokeLinejoin?: Pen['lineJoin'];
}

/** A drawing px has so many steps: fewer than a page can show. */
const STEPS = 100;
const round = (value: number) => Math.round(STEPS * value) / STEPS;

class SvgPen implements Pen {
  lineWidth = 1;
  strokeStyle: unknown = '#000';
  fillStyle: unknown = '#000';
  lineJoin: Pen['lineJoin'] = 'miter';
  lineCap: Pen['lineCap'] = 'butt';
  #dash: readonly number[] = [];
  #path = '';
  readonly #strokes: Stroke[] = [];

  setLineDash(dash: number[]): void {
    this.#dash = dash;
  }

  beginPath(): void {
    this.#path = '';
  }

  moveTo(x: number, y: number): void {
    this.#path += `M${round(x)} ${round(y)}`;
  }

  lineTo(x: number, y: number): void {
    this.#path += `L${round(x)} ${round(y)}`;
  }

  arc(x: number, y: number, radius: number): void {
    const [r, across] = [round(radius), round(2 * radius)];
    this.#path += `M${round(x - radius)} ${round(y)}a${r} ${r} 0 1 0 ${across} 0a${r} ${r} 0 1 0 ${-across} 0Z`;
  }

  rect(x: number, y: number, width: number, height: number): void {
    this.#path += `M${round(x)} ${round(y)}h${round(width)}v${round(height)}h${round(-width)}Z`;
  }

  closePath(): void {
    this.#path += 'Z';
  }

  fill(): void {
    this.#add({ d: this.#path, fill: String(this.fillStyle), stroke: 'none' });
  }

  stroke(): void {
    this.#add({
      d: this.#path,
      fill: 'none',
      stroke: String(this.strokeStyle),
      strokeWidth: round(this.lineWidth),
      ...(this.#dash.length > 0 ? { strokeDasharray: this.#dash.map(round).join(' ') } : {}),
      ...(this.lineCap === 'butt' ? {} : { strokeLinecap: this.lineCap }),
      ...(this.lineJoin === 'miter' ? {} : { strokeLinejoin: this.lineJoin }),
    });
  }

  /** Strokes of one colour that follow each other become one path for each kind: their order among themselves cannot be seen. */
  #add(stroke: Stroke): void {
    const colourOf = ({ fill, stroke: line }: Stroke) => (fill === 'none' ? line : fill);
    const styleOf = ({ d: _, ...style }: Stroke) => JSON.stringify(style);
    for (let i = this.#strokes.length - 1; i >= 0; i--) {
      const earlier = this.#strokes[i]!;
      if (colourOf(earlier) !== colourOf(stroke)) break;
      if (styleOf(earlier) !== styleOf(stroke)) continue;
      this.#strokes[i] = { ...earlier, d: earlier.d + stroke.d };
      return;
    }
    this.#strokes.push(stroke);
  }

  /** All that was drawn. */
  render() {
    return this.#strokes.map((stroke, i) => <path key={i} {...stroke} />);
  }
}
