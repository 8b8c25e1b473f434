/** The house from the side, to scale. */
import { translate } from '../../../../../wording/translate.ts';
import type { WordLength } from './house-drawing.tsx';
import { layOutSideView } from './lay-out-side-view.ts';
import type { HouseLengths } from './read-lengths.ts';

export function SideView({ lengths, word }: { readonly lengths: HouseLengths; readonly word: WordLength }) {
  const view = layOutSideView(lengths);
  if (!view) return <p className="drawing-empty">{translate('house.drawing-empty')}</p>;
  const { width, height, floor, screen, projector, nearestRow, referenceSeat } = view;
  const described = view.lengths.map(
    ({ of, length_m }) => `${translate(`house.drawn-${of}`)} ${word(length_m, 'room')}`,
  );
  return (
    <figure className="drawing-figure">
      <figcaption>{translate('house.drawing-side')}</figcaption>
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={described.join(', ')}>
        <path className="drawing-thin" d={`M8 ${floor}H${width - 8}`} />
        {screen && projector && (
          <path
            className="drawing-beam"
            d={`M${projector.x} ${projector.y}L${screen.x} ${screen.top}V${screen.bottom}Z`}
          />
        )}
        {screen && <path className="drawing-thick" d={`M${screen.x} ${screen.top}V${screen.bottom}`} />}
        {projector && <Projector {...projector} />}
        {nearestRow && <Seat {...nearestRow} floor={floor} />}
        {referenceSeat && <Seat {...referenceSeat} floor={floor} />}
        {referenceSeat && <Eye {...referenceSeat} />}
        {view.lengths.map(({ of, length_m, from, to, y }) => (
          <g key={of}>
            <path className="drawing-thin" d={`M${from} ${y}H${to}M${from} ${y - 5}v10M${to} ${y - 5}v10`} />
            <text x={from + 8} y={y - 6}>
              {translate(`house.drawn-${of}`)} <tspan className="drawing-number">{word(length_m, 'room')}</tspan>
            </text>
          </g>
        ))}
      </svg>
    </figure>
  );
}

/** A housing with its lens towards the screen. */
function Projector({ x, y }: { readonly x: number; readonly y: number }) {
  return <path className="drawing-solid" d={`M${x} ${y - 4}h8v-7h20v22h-20v-7h-8z`} />;
}

function Seat({ x, y, floor }: { readonly x: number; readonly y: number; readonly floor: number }) {
  return <path className="drawing-seat" d={`M${x + 9} ${y + 4}V${floor - 5}H${x - 5}V${floor}`} />;
}

/** An open eye that looks towards the screen, above the reference seat. */
function Eye({ x, y }: { readonly x: number; readonly y: number }) {
  return (
    <g transform={`translate(${x} ${y - 5})`}>
      <path className="drawing-eye" d="M-11 0Q0 -10 11 0Q0 10 -11 0Z" />
      <circle className="drawing-solid" r="3.2" cx="-3" />
    </g>
  );
}
