/** A turn as a dial that a hand can copy: the screw's head as one looks at it, or a magnified protractor for what is turned as a whole. */
import type { ReadingTrialTurn, ReadingTurn } from '../record/reading.ts';
import { isByHand } from '../wording/turns.ts';
import { translate } from '../wording/translate.ts';
import {
  type Arrow,
  chooseProtractor,
  DIAL_SIZE,
  drawArc,
  drawArrow,
  drawSector,
  followScrew,
  placeOnDial,
  PROTRACTOR_SPREAD_DEG,
  TICKS,
} from './dial-geometry.ts';

const HEAD = 62;
const RIM = 74;
const WAY = 94;
const RETURN = 108;
const TICK_LENGTH = { quarter: 12, eighth: 8, sixteenth: 5 } as const;

const TICK = { stroke: 'var(--soft)', strokeWidth: 1.4 } as const;
const QUARTER = { stroke: 'var(--ink)', strokeWidth: 2.2 } as const;
/** Where the slot stands before the turn, and after it. */
const SLOTS = {
  before: { fill: 'none', stroke: 'var(--edge)', strokeWidth: 8, opacity: 0.6, strokeLinecap: 'round' },
  after: { fill: 'none', stroke: 'var(--ink)', strokeWidth: 5, strokeLinecap: 'round' },
} as const;

/** An arrow along a circle: which way a hand goes, and how far. */
export function CurvedArrow({ arrow, width = 6 }: { readonly arrow: Arrow; readonly width?: number }) {
  return (
    <>
      <path d={arrow.line} fill="none" stroke="var(--accent)" strokeWidth={width} />
      <path d={arrow.head} fill="var(--accent)" />
    </>
  );
}

export interface ScrewDialProps {
  /** Clockwise positive, looking at the head. */
  readonly turns: number;
  readonly overshoot: number;
  /** The turn in words. */
  readonly name: string;
}

/** Marks every sixteenth of a turn. The faint slot is where it stands, the strong one where it ends. */
export function ScrewDial({ turns, overshoot, name }: ScrewDialProps) {
  const { whole, end, past } = followScrew(turns, overshoot);
  const way = wayOf(turns, end, past);
  return (
    <svg className="dial" viewBox={`6 6 ${DIAL_SIZE - 12} ${DIAL_SIZE - 12}`} role="img" aria-label={name}>
      <circle cx="120" cy="120" r={HEAD} fill="var(--raised)" stroke="var(--edge)" strokeWidth="2" />
      {TICKS.map(({ at, rank }) => {
        const [a, b] = [placeOnDial(at, RIM), placeOnDial(at, RIM + TICK_LENGTH[rank])];
        return <path key={at} d={`M${a.x} ${a.y}L${b.x} ${b.y}`} {...(rank === 'quarter' ? QUARTER : TICK)} />;
      })}
      {end !== 0 && <path d={drawSector(0, end, HEAD)} fill="var(--accent)" opacity="0.22" />}
      <Slot at={0} kind="before" />
      <Slot at={end} kind="after" />
      {whole > 0 && (
        <>
          <circle
            cx="120"
            cy="120"
            r={RETURN}
            fill="none"
            stroke="var(--accent)"
            strokeWidth="3"
            strokeDasharray="7 5"
          />
          <circle cx="120" cy="120" r="24" fill="var(--raised)" />
          <text x="120" y="129" fill="var(--ink)" fontSize="26" fontWeight="700" textAnchor="middle">
            {translate('turns.times', { count: whole })}
          </text>
        </>
      )}
      <CurvedArrow arrow={way} />
      {past !== null && <Return from={past} to={end} />}
      <path d="M120 32V46" stroke="var(--ink)" strokeWidth="3" />
    </svg>
  );
}

/** Where only whole rounds are to be made the arrow covers their last quarter. */
function wayOf(turns: number, end: number, past: number | null) {
  const to = past ?? end;
  return to === 0 ? drawArrow(-0.25 * Math.sign(turns), 0, WAY) : drawArrow(0, to, WAY);
}

function Return({ from, to }: { readonly from: number; readonly to: number }) {
  const back = drawArrow(from, to, RETURN, 6);
  return <CurvedArrow arrow={back} width={3.5} />;
}

function Slot({ at, kind }: { readonly at: number; readonly kind: 'before' | 'after' }) {
  const [a, b] = [placeOnDial(at, HEAD - 14), placeOnDial(at + 0.5, HEAD - 14)];
  const tip = placeOnDial(at, HEAD - 5);
  return (
    <>
      <path d={`M${a.x} ${a.y}L${b.x} ${b.y}`} {...SLOTS[kind]} />
      <circle cx={tip.x} cy={tip.y} r="4" fill={SLOTS[kind].stroke} />
    </>
  );
}

const PIVOT = { x: 120, y: 300 };
const ARC = 220;

export interface HandDialProps {
  /** Clockwise positive, as the one who turns sees it. */
  readonly degrees: number;
  readonly name: string;
}

/** Far less than an eye can copy, so it is magnified, and says so. */
export function HandDial({ degrees, name }: HandDialProps) {
  const { span_deg, divisions, magnification } = chooseProtractor(degrees);
  const drawn = (deg: number) => (deg * magnification) / 360;
  const spread = PROTRACTOR_SPREAD_DEG / 360;
  const way = drawArrow(0, drawn(degrees), ARC - 82, 8, PIVOT);
  const [start, end] = [placeOnDial(0, ARC - 62, PIVOT), placeOnDial(drawn(degrees), ARC - 62, PIVOT)];
  const [startTop, endTop] = [placeOnDial(0, ARC, PIVOT), placeOnDial(drawn(degrees), ARC, PIVOT)];
  return (
    <svg className="dial" viewBox={`-22 44 ${DIAL_SIZE + 44} 142`} role="img" aria-label={name}>
      <path d={drawArc(-spread, spread, ARC, PIVOT)} fill="none" stroke="var(--edge)" strokeWidth="2" />
      {Array.from({ length: 2 * divisions + 1 }, (_, i) => i - divisions).map((i) => {
        const at = drawn((i / divisions) * span_deg);
        const isLong = i % (divisions / 2) === 0;
        const [a, b] = [placeOnDial(at, ARC, PIVOT), placeOnDial(at, ARC - (isLong ? 16 : 9), PIVOT)];
        return <path key={i} d={`M${a.x} ${a.y}L${b.x} ${b.y}`} {...TICK} />;
      })}
      {[-1, -0.5, 0, 0.5, 1].map((part) => {
        const at = placeOnDial(drawn(part * span_deg), ARC + 14, PIVOT);
        return (
          <text key={part} x={at.x} y={at.y + 5} fill="var(--soft)" fontSize="15" textAnchor="middle">
            {translate('turns.degrees', { degrees: Math.abs(part * span_deg) })}
          </text>
        );
      })}
      <path d={`M${start.x} ${start.y}L${startTop.x} ${startTop.y}`} {...SLOTS.before} />
      <path d={`M${end.x} ${end.y}L${endTop.x} ${endTop.y}`} {...SLOTS.after} />
      <CurvedArrow arrow={way} />
    </svg>
  );
}

export interface TurnDialProps {
  readonly turn: ReadingTurn | ReadingTrialTurn;
  /** The turn in words. */
  readonly name: string;
}

/** The dial that suits what is turned. */
export function TurnDial({ turn, name }: TurnDialProps) {
  const signed = turn.direction === 'clockwise' ? turn.turns : -turn.turns;
  const overshoot = 'approach' in turn ? (turn.approach?.overshoot_turns ?? 0) : 0;
  return isByHand(turn) ? (
    <HandDial degrees={360 * signed} name={name} />
  ) : (
    <ScrewDial turns={signed} overshoot={overshoot} name={name} />
  );
}
