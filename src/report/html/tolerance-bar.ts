/**
 * Where a value lies between its limits: a band from -limit to +limit about zero, the value as an upright stroke, its
 * 95 % interval as a lying one. The scale reaches at most `MOST_LIMITS` limits; what lies beyond is drawn as an arrow.
 */
import { coordinate, type Markup, markup } from './markup.ts';

const WIDTH = 200;
const HEIGHT = 30;
const MARGIN = 8;
const MOST_LIMITS = 4;

export interface ToleranceBar {
  readonly value: number;
  readonly u: number;
  readonly limit: number;
  /** The limit on the other side is another one and is not drawn. */
  readonly oneSided: boolean;
  /** What the drawing says, for readers who do not see it. */
  readonly label: string;
}

export function drawToleranceBar({ value, u, limit, oneSided, label }: ToleranceBar): Markup {
  const span = Math.min(MOST_LIMITS * limit, Math.max(1.6 * limit, 1.12 * (Math.abs(value) + 2 * u)));
  const half = WIDTH / 2 - MARGIN;
  const clamp = (v: number) => Math.max(-span, Math.min(span, v));
  const x = (v: number) => coordinate(WIDTH / 2 + (clamp(v) / span) * half);
  const middle = HEIGHT / 2;
  const low = oneSided && value >= 0 ? 0 : -limit;
  const high = oneSided && value < 0 ? 0 : limit;
  const beyond = Math.abs(value) > span;
  const tip = x(value);
  const inward = value > 0 ? -9 : 9;
  const pointer = beyond
    ? markup`<path d="M${tip} ${middle}l${inward} -7v14Z" fill="#16191d"/>`
    : markup`<path d="M${x(value - 2 * u)} ${middle}H${x(value + 2 * u)}" stroke="#16191d" stroke-width="3"/><path d="M${tip} 4V${HEIGHT - 4}" stroke="#16191d" stroke-width="3.2"/>`;
  return markup`<svg class="bar" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${label}"><rect x="${x(low)}" y="8" width="${coordinate(x(high) - x(low))}" height="14" fill="#dfe3e8"/><path d="M${MARGIN} ${middle}H${WIDTH - MARGIN}" stroke="#9aa1aa"/><path d="M${x(low)} 5V25M${x(high)} 5V25" stroke="#565d66" stroke-width="1.4"/><path d="M${WIDTH / 2} 11V19" stroke="#9aa1aa"/>${pointer}</svg>`;
}
