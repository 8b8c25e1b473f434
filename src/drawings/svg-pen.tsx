/** A pen that writes SVG: what a layer draws on the screen's canvas it draws into a report by this. */
import type { Pen } from './overlay-layers.ts';

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

export class SvgPen implements Pen {
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
