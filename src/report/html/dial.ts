/**
 * A turn as a dial: the screw head as one looks at it, with marks every eighth of a turn. The slot starts upright;
 * the dashed slot shows where it stands at the end, and the arrow goes the way there. Whole turns are counted in the
 * middle.
 */
import { formatGiven } from '../../wording/numbers.ts';
import { coordinate, type Markup, markup } from './markup.ts';

const CENTRE = 60;
const RIM = 40;
const TRACK = 50;

function onCircle(turns: number, radius: number): { readonly x: number; readonly y: number } {
  const angle = 2 * Math.PI * turns;
  return { x: coordinate(CENTRE + radius * Math.sin(angle)), y: coordinate(CENTRE - radius * Math.cos(angle)) };
}

function drawArrow(turns: number): Markup {
  const sign = Math.sign(turns);
  const amount = Math.abs(turns);
  const whole = Math.floor(amount + 1e-6);
  const rest = amount - whole;
  const ring =
    whole > 0
      ? markup`<circle cx="${CENTRE}" cy="${CENTRE}" r="${TRACK}" fill="none" stroke="#16191d" stroke-width="2.5"/>`
      : null;
  // The arrow of a whole turn is drawn over the last eighth of the ring.
  const from = rest < 1e-6 ? 7 / 8 : 0;
  const to = rest < 1e-6 ? 1 : rest;
  // The head takes the last part of the way, so that the tip stands at the angle itself.
  const neck = Math.max(from, to - 0.045);
  const start = onCircle(sign * from, TRACK);
  const end = onCircle(sign * neck, TRACK);
  const large = neck - from > 0.5 ? 1 : 0;
  const tip = onCircle(sign * to, TRACK);
  const inner = onCircle(sign * neck, TRACK - 7);
  const outer = onCircle(sign * neck, TRACK + 7);
  return markup`${ring}<path d="M${start.x} ${start.y}A${TRACK} ${TRACK} 0 ${large} ${sign > 0 ? 1 : 0} ${end.x} ${end.y}" fill="none" stroke="#16191d" stroke-width="4.5"/><path d="M${tip.x} ${tip.y}L${inner.x} ${inner.y} ${outer.x} ${outer.y}Z" fill="#16191d"/>`;
}

/** `turns` is positive clockwise. */
export function drawDial(turns: number, label: string): Markup {
  const ticks = Array.from({ length: 8 }, (_, i) => {
    const inner = onCircle(i / 8, RIM - 5);
    const outer = onCircle(i / 8, RIM - (i % 2 === 0 ? 0 : 1.5));
    return markup`<path d="M${inner.x} ${inner.y}L${outer.x} ${outer.y}" stroke="#565d66" stroke-width="${i % 2 === 0 ? 2 : 1.2}"/>`;
  });
  const slotEnd = onCircle(turns, 26);
  const slotTail = onCircle(turns + 0.5, 26);
  const whole = Math.floor(Math.abs(turns) + 1e-6);
  const count =
    whole > 0
      ? markup`<circle cx="${CENTRE}" cy="${CENTRE}" r="13" fill="#fff"/><text x="${CENTRE}" y="${CENTRE + 6}" text-anchor="middle" font-size="17" font-weight="700" fill="#16191d">${whole}×</text>`
      : null;
  return markup`<svg class="dial" viewBox="0 0 120 120" role="img" aria-label="${label}"><circle cx="${CENTRE}" cy="${CENTRE}" r="${RIM}" fill="#fff" stroke="#565d66" stroke-width="1.6"/>${ticks}<path d="M${CENTRE} ${CENTRE - 26}V${CENTRE + 26}" stroke="#b6bcc4" stroke-width="7"/><path d="M${slotTail.x} ${slotTail.y}L${slotEnd.x} ${slotEnd.y}" stroke="#16191d" stroke-width="3" stroke-dasharray="5 3.5"/>${count}${drawArrow(turns)}</svg>`;
}

/** For what is turned as a whole by a few degrees: the way only, and how far in words, because it would not be seen to scale. */
export function drawHandDial(turns: number, label: string): Markup {
  const degrees = formatGiven(360 * Math.abs(turns));
  return markup`<svg class="dial" viewBox="0 0 120 120" role="img" aria-label="${label}"><circle cx="${CENTRE}" cy="${CENTRE}" r="${RIM}" fill="#fff" stroke="#565d66" stroke-width="1.6" stroke-dasharray="4 3"/><text x="${CENTRE}" y="${CENTRE + 7}" text-anchor="middle" font-size="20" font-weight="700" fill="#16191d">${degrees}°</text>${drawArrow(Math.sign(turns) * 0.125)}</svg>`;
}
