/**
 * The two-path attachment as somebody sees it who stands before it: a simple drawing of our own, not to scale, with the
 * adjustment in question brought out. Where the house does not say where a screw sits, only its port is.
 */
import type { Eye } from '../../../../kernel/eye.ts';
import { translate } from '../../../../wording/translate.ts';
import type { AdjustmentPlace, Port, Side } from './attachment-place.ts';
import { CurvedArrow } from '../../../../drawings/dial.tsx';
import { drawArrow } from '../../../../drawings/dial-geometry.ts';
import type { Standpoint } from './turn-words.ts';
import './turns.css';

const CENTRE = { x: 130, y: 150 };
const PORT_Y: Readonly<Record<Port, number>> = { upper: 104, lower: 196 };
const RING = 118;

export interface AttachmentDrawingProps {
  readonly place: AdjustmentPlace;
  readonly upperPortShows: Eye;
  readonly standpoint: Standpoint;
  /** Of the whole, as seen from the standpoint; clockwise positive. */
  readonly wholeTurns: number | null;
  readonly name: string;
}

export function AttachmentDrawing({ place, upperPortShows, standpoint, wholeTurns, name }: AttachmentDrawingProps) {
  const other: Eye = upperPortShows === 'left' ? 'right' : 'left';
  const isBehind = standpoint === 'projector';
  return (
    <svg className="turns-drawing" viewBox="-14 -26 288 352" role="img" aria-label={name}>
      {!isBehind && <circle className="turns-drawing-ring" cx={CENTRE.x} cy={CENTRE.y} r={RING} />}
      <rect
        className={place.turnsWhole ? 'turns-drawing-body turns-drawing-meant' : 'turns-drawing-body'}
        x="70"
        y="44"
        width="120"
        height="212"
        rx="10"
      />
      <PortShape port="upper" eye={upperPortShows} place={place} isBehind={isBehind} />
      <PortShape port="lower" eye={other} place={place} isBehind={isBehind} />
      {isBehind && (
        <>
          <circle className="turns-drawing-barrel" cx={CENTRE.x} cy={CENTRE.y} r="50" />
          <text className="turns-drawing-small" x={CENTRE.x} y={CENTRE.y + 5}>
            {translate('turns.drawing-lens')}
          </text>
        </>
      )}
      {place.side !== null && <Screws side={place.side} port={place.port} standpoint={standpoint} />}
      {place.turnsWhole && wholeTurns !== null && <WholeWay turns={wholeTurns} />}
    </svg>
  );
}

function PortShape(props: { port: Port; eye: Eye; place: AdjustmentPlace; isBehind: boolean }) {
  const { port, eye, place, isBehind } = props;
  const y = PORT_Y[port] - 34;
  const isMeant = place.port === port && place.side === null;
  return (
    <g className={`turns-drawing-${eye}`}>
      <rect
        className={`turns-drawing-port${isMeant ? ' turns-drawing-port-meant' : ''}${isBehind ? ' turns-drawing-hidden' : ''}`}
        x="88"
        y={y}
        width="84"
        height="68"
        rx="3"
      />
      {!isBehind && (
        <text className="turns-drawing-eye" x={CENTRE.x} y={PORT_Y[port] + 6}>
          {translate(`turns.drawing-${eye}`)}
        </text>
      )}
    </g>
  );
}

/** Towards where the screw's head points from the middle of its place. */
interface Seat {
  readonly x: number;
  readonly y: number;
  readonly out: readonly [number, number];
}

function Screws({
  side,
  port,
  standpoint,
}: {
  readonly side: Side;
  readonly port: Port | null;
  readonly standpoint: Standpoint;
}) {
  const y = port === null ? CENTRE.y : PORT_Y[port];
  const right: Seat = { x: 190, y, out: [1, 0] };
  const left: Seat = { x: 70, y, out: [-1, 0] };
  const [seenRight, seenLeft] = standpoint === 'audience' ? [right, left] : [left, right];
  if (side === 'either-side') {
    return (
      <>
        <Knob seat={left} isPerhaps />
        <Knob seat={right} isPerhaps />
      </>
    );
  }
  if (side === 'right') return <Knob seat={seenRight} />;
  if (side === 'left') return <Knob seat={seenLeft} />;
  const isBetween = (side === 'top' && port === 'lower') || (side === 'bottom' && port === 'upper');
  if (side === 'front' || isBetween) return <Head x={CENTRE.x} y={isBetween ? CENTRE.y : y} />;
  return side === 'top' ? (
    <Knob seat={{ x: 130, y: 44, out: [0, -1] }} />
  ) : (
    <Knob seat={{ x: 130, y: 256, out: [0, 1] }} />
  );
}

/** A screw seen from its side, and an eye where to look at its head from. */
function Knob({ seat: { x, y, out }, isPerhaps }: { readonly seat: Seat; readonly isPerhaps?: boolean }) {
  const angle = (Math.atan2(out[1], out[0]) * 180) / Math.PI;
  return (
    <g
      transform={`translate(${x} ${y}) rotate(${angle})`}
      className={isPerhaps ? 'turns-drawing-knob turns-drawing-perhaps' : 'turns-drawing-knob'}
    >
      <rect x="0" y="-6" width="11" height="12" />
      <rect x="11" y="-19" width="14" height="38" rx="3" />
      <path className="turns-drawing-look" d="M48 0H32M38 -5 31 0l7 5" />
      <g transform={`translate(61 0) rotate(${-angle})`} className="turns-drawing-look">
        <path d="M-10 0Q0 -9 10 0Q0 9 -10 0Z" />
        <circle cx="0" cy="0" r="2.2" />
      </g>
    </g>
  );
}

/** A screw whose head looks at whoever stands before it. */
function Head({ x, y }: { readonly x: number; readonly y: number }) {
  return (
    <g className="turns-drawing-knob">
      <circle cx={x} cy={y} r="13" />
      <path className="turns-drawing-notch" d={`M${x} ${y - 9}V${y + 9}`} />
    </g>
  );
}

function WholeWay({ turns }: { readonly turns: number }) {
  const sign = Math.sign(turns);
  const upper = drawArrow(-0.09 * sign, 0.09 * sign, RING + 14, 9, CENTRE);
  const lower = drawArrow(0.5 - 0.09 * sign, 0.5 + 0.09 * sign, RING + 14, 9, CENTRE);
  return (
    <>
      <CurvedArrow arrow={upper} />
      <CurvedArrow arrow={lower} />
    </>
  );
}
