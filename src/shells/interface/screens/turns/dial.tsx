/** A turn as a dial that a hand can copy: the screw's head as one looks at it, or a magnified protractor for what is turned as a whole. */
import { translate } from '../../../../wording/translate.ts';
import {
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
import './dial.css';

const HEAD = 62;
const RIM = 74;
const WAY = 94;
const RETURN = 108;
const TICK_LENGTH = { quarter: 12, eighth: 8, sixteenth: 5 } as const;

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
    <svg className="turns-dial" viewBox={`6 6 ${DIAL_SIZE - 12} ${DIAL_SIZE - 12}`} role="img" aria-label={name}>
      <circle className="turns-dial-head" cx="120" cy="120" r={HEAD} />
      {TICKS.map(({ at, rank }) => {
        const [a, b] = [placeOnDial(at, RIM), placeOnDial(at, RIM + TICK_LENGTH[rank])];
        return <path key={at} className={`turns-dial-tick turns-dial-${rank}`} d={`M${a.x} ${a.y}L${b.x} ${b.y}`} />;
      })}
      {end !== 0 && <path className="turns-dial-swept" d={drawSector(0, end, HEAD)} />}
      <Slot at={0} kind="before" />
      <Slot at={end} kind="after" />
      {whole > 0 && (
        <>
          <circle className="turns-dial-round" cx="120" cy="120" r={RETURN} />
          <circle className="turns-dial-count-ground" cx="120" cy="120" r="24" />
          <text className="turns-dial-count" x="120" y="129">
            {translate('turns.times', { count: whole })}
          </text>
        </>
      )}
      <path className="turns-dial-way" d={way.line} />
      <path className="turns-dial-tip" d={way.head} />
      {past !== null && <Return from={past} to={end} />}
      <path className="turns-dial-start" d="M120 32V46" />
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
  return (
    <>
      <path className="turns-dial-back" d={back.line} />
      <path className="turns-dial-tip" d={back.head} />
    </>
  );
}

function Slot({ at, kind }: { readonly at: number; readonly kind: 'before' | 'after' }) {
  const [a, b] = [placeOnDial(at, HEAD - 14), placeOnDial(at + 0.5, HEAD - 14)];
  const tip = placeOnDial(at, HEAD - 5);
  return (
    <>
      <path className={`turns-dial-slot turns-dial-slot-${kind}`} d={`M${a.x} ${a.y}L${b.x} ${b.y}`} />
      <circle className={`turns-dial-mark turns-dial-mark-${kind}`} cx={tip.x} cy={tip.y} r="4" />
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
    <svg className="turns-dial" viewBox={`-22 44 ${DIAL_SIZE + 44} 142`} role="img" aria-label={name}>
      <path className="turns-dial-arc" d={drawArc(-spread, spread, ARC, PIVOT)} />
      {Array.from({ length: 2 * divisions + 1 }, (_, i) => i - divisions).map((i) => {
        const at = drawn((i / divisions) * span_deg);
        const isLong = i % (divisions / 2) === 0;
        const [a, b] = [placeOnDial(at, ARC, PIVOT), placeOnDial(at, ARC - (isLong ? 16 : 9), PIVOT)];
        return <path key={i} className="turns-dial-tick" d={`M${a.x} ${a.y}L${b.x} ${b.y}`} />;
      })}
      {[-1, -0.5, 0, 0.5, 1].map((part) => {
        const at = placeOnDial(drawn(part * span_deg), ARC + 14, PIVOT);
        return (
          <text key={part} className="turns-dial-degrees" x={at.x} y={at.y + 5}>
            {translate('turns.degrees', { degrees: Math.abs(part * span_deg) })}
          </text>
        );
      })}
      <path
        className="turns-dial-slot turns-dial-slot-before"
        d={`M${start.x} ${start.y}L${startTop.x} ${startTop.y}`}
      />
      <path className="turns-dial-slot turns-dial-slot-after" d={`M${end.x} ${end.y}L${endTop.x} ${endTop.y}`} />
      <path className="turns-dial-way" d={way.line} />
      <path className="turns-dial-tip" d={way.head} />
    </svg>
  );
}
