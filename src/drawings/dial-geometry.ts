/** Where things stand on a dial. Turns are counted clockwise from the top, as somebody sees it who looks at the dial. */

export interface Place {
  readonly x: number;
  readonly y: number;
}

/** Middle of every dial, and its size. */
export const DIAL_SIZE = 240;
const CENTRE = DIAL_SIZE / 2;

const round = (value: number) => Math.round(value * 100) / 100;

export function placeOnDial(turns: number, radius: number, centre: Place = { x: CENTRE, y: CENTRE }): Place {
  const angle = 2 * Math.PI * turns;
  return { x: round(centre.x + radius * Math.sin(angle)), y: round(centre.y - radius * Math.cos(angle)) };
}

/** An arc from one angle to another, less than a whole turn apart; clockwise where `to` is the larger one. */
export function drawArc(from: number, to: number, radius: number, centre?: Place): string {
  const [start, end] = [placeOnDial(from, radius, centre), placeOnDial(to, radius, centre)];
  const isLarge = Math.abs(to - from) > 0.5 ? 1 : 0;
  return `M${start.x} ${start.y}A${radius} ${radius} 0 ${isLarge} ${to > from ? 1 : 0} ${end.x} ${end.y}`;
}

/** The part of a disc that a hand sweeps. */
export function drawSector(from: number, to: number, radius: number): string {
  return `${drawArc(from, to, radius)}L${CENTRE} ${CENTRE}Z`;
}

/** An arc that ends in an arrow head whose tip stands at `to` itself. */
export interface Arrow {
  readonly line: string;
  readonly head: string;
}

export function drawArrow(from: number, to: number, radius: number, head = 9, centre?: Place): Arrow {
  const sign = Math.sign(to - from);
  // The head takes the last part of the way, but never more than three quarters of it.
  const long = Math.min((1.7 * head) / (2 * Math.PI * radius), 0.75 * Math.abs(to - from));
  const neck = to - sign * long;
  const [tip, inner, outer] = [
    placeOnDial(to, radius, centre),
    placeOnDial(neck, radius - head, centre),
    placeOnDial(neck, radius + head, centre),
  ];
  return {
    line: drawArc(from, neck, radius, centre),
    head: `M${tip.x} ${tip.y}L${inner.x} ${inner.y} ${outer.x} ${outer.y}Z`,
  };
}

export interface Tick {
  readonly at: number;
  readonly rank: 'quarter' | 'eighth' | 'sixteenth';
}

/** Sixteenths of a turn, longer at eighths and quarters. */
export const TICKS: readonly Tick[] = Array.from({ length: 16 }, (_, i) => ({
  at: i / 16,
  rank: i % 4 === 0 ? 'quarter' : i % 2 === 0 ? 'eighth' : 'sixteenth',
}));

/** How a turn goes on the dial of a screw. */
export interface ScrewWay {
  /** Whole rounds before the rest. */
  readonly whole: number;
  /** Signed, clockwise positive: where the slot ends after the whole rounds; 0 where nothing is over. */
  readonly end: number;
  /** Signed: how far it goes first, past the end, where the play asks for it; null where it does not. */
  readonly past: number | null;
}

export function followScrew(signedTurns: number, overshoot: number): ScrewWay {
  const whole = Math.floor(Math.abs(signedTurns) + 1e-6);
  const rest = Math.abs(signedTurns) - whole;
  const end = rest < 1e-6 ? 0 : Math.sign(signedTurns) * rest;
  // Only a counter-clockwise turn goes past: the finish is always clockwise.
  const past = signedTurns < 0 && overshoot > 0 ? end - overshoot : null;
  return { whole, end, past };
}

/** Degrees that a magnified protractor shows on each side of zero. */
const SPANS_DEG = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 45];
/** How far it spreads on the drawing, on each side. */
export const PROTRACTOR_SPREAD_DEG = 30;

export interface Protractor {
  readonly span_deg: number;
  /** Drawn angle over true angle; 1 where it is drawn as it is. */
  readonly magnification: number;
  /** Fine divisions from zero to the span. */
  readonly divisions: number;
}

/** The finest protractor on which the angle takes no more than three quarters of one side. */
export function chooseProtractor(degrees: number): Protractor {
  const span_deg = SPANS_DEG.find((span) => Math.abs(degrees) <= 0.75 * span) ?? 90;
  return { span_deg, magnification: PROTRACTOR_SPREAD_DEG / span_deg, divisions: 10 };
}
