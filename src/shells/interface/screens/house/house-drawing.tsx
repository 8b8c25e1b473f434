/** The house as it is described so far: from the side, the picture from the front, and a frame of the film. */
import { translate } from '../../../../wording/translate.ts';
import { type HouseLengths, layoutFilm, layoutSideView, readLengths } from './drawing-layout.ts';
import { formatUnit, type Tree } from './house-draft.ts';
import { formatQuantity, type Quantity, type Units } from './units.ts';
import './house.css';

interface HouseDrawingProps {
  readonly tree: Tree;
  readonly units: Units;
}

type FormatLength = (value: number, quantity: Quantity) => string;

export function HouseDrawing({ tree, units }: HouseDrawingProps) {
  const lengths = readLengths(tree);
  // A drawing is read at a glance: few figures are enough.
  const word: FormatLength = (value, quantity) =>
    `${Number(Number(formatQuantity(value, quantity, units)).toPrecision(quantity === 'room' ? 4 : 3))} ${formatUnit(quantity, units) ?? ''}`.trim();
  return (
    <div className="drawing">
      <SideView lengths={lengths} word={word} />
      <div className="drawing-pair">
        <ScreenFront lengths={lengths} word={word} />
        <FilmFrame lengths={lengths} word={word} />
      </div>
      <p className="drawing-note">{translate('house.drawing-note')}</p>
    </div>
  );
}

/** The house from the side, to scale. */

function SideView({ lengths, word }: { readonly lengths: HouseLengths; readonly word: FormatLength }) {
  const view = layoutSideView(lengths);
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

/** One frame of the film with both pictures, septum and frame line, to scale. */

/** Width and height of a perforation and its distance from the edge, mm (from memory, unconfirmed): only drawn. */
const PERFORATION = { width: 2.8, height: 1.98, edge: 2.01 } as const;
/** Room for the words beside the film, in mm of the drawing. */
const WORDS_MM = 31;

function FilmFrame({ lengths, word }: { readonly lengths: HouseLengths; readonly word: FormatLength }) {
  const film = layoutFilm(lengths);
  if (!film) return <p className="drawing-empty">{translate('house.drawing-film-empty')}</p>;
  const { width_mm, frameHeight_mm, pictures, septum_mm, frameLine_mm, isOverlapping } = film;
  const septum = translate('house.drawn-septum', { size: word(septum_mm, 'machine') });
  const frameLine = translate('house.drawn-frame-line', { size: word(frameLine_mm, 'machine') });
  const left = PERFORATION.edge;
  const right = width_mm - PERFORATION.edge - PERFORATION.width;
  return (
    <figure className="drawing-figure">
      <figcaption>{translate('house.drawing-film')}</figcaption>
      <svg
        viewBox={`0 -2 ${width_mm + WORDS_MM} ${frameHeight_mm + 4}`}
        role="img"
        aria-label={isOverlapping ? translate('house.drawn-overlap') : `${septum}, ${frameLine}`}
        className="drawing-film"
      >
        <rect className="drawing-strip" x="0" y="-2" width={width_mm} height={frameHeight_mm + 4} />
        {film.perforations_y_mm.flatMap((y) =>
          [left, right].map((x) => (
            <rect
              key={`${x} ${y}`}
              className="drawing-hole"
              x={x}
              y={y - PERFORATION.height / 2}
              width={PERFORATION.width}
              height={PERFORATION.height}
              rx="0.5"
            />
          )),
        )}
        {pictures.map(({ place, x_mm, y_mm, width_mm: width, height_mm }) => (
          <rect key={place} className="drawing-frame" x={x_mm} y={y_mm} width={width} height={height_mm} />
        ))}
        <path className="drawing-end" d={`M0 0H${width_mm}M0 ${frameHeight_mm}H${width_mm}`} />
        {isOverlapping ? (
          <text x={width_mm + 1.2} y={frameHeight_mm / 2 + 0.6}>
            {translate('house.drawn-overlap')}
          </text>
        ) : (
          <>
            <text x={width_mm + 1.2} y={frameHeight_mm / 2 + 0.6}>
              {septum}
            </text>
            <text x={width_mm + 1.2} y={frameHeight_mm + 0.9}>
              {frameLine}
            </text>
          </>
        )}
      </svg>
    </figure>
  );
}

/** The picture as the audience sees it, with its size. */

const WIDTH = 310;
const PICTURE_WIDTH = 225;
const TOP = 8;

function ScreenFront({ lengths, word }: { readonly lengths: HouseLengths; readonly word: FormatLength }) {
  const { pictureWidth_m, pictureAspect } = lengths;
  const height = PICTURE_WIDTH / pictureAspect;
  const width_m = pictureWidth_m === null ? null : word(pictureWidth_m, 'room');
  const height_m = pictureWidth_m === null ? null : word(pictureWidth_m / pictureAspect, 'room');
  const name = translate('house.drawn-picture', { width: width_m ?? '–', height: height_m ?? '–' });
  return (
    <figure className="drawing-figure">
      <figcaption>{translate('house.drawing-front')}</figcaption>
      <svg viewBox={`0 0 ${WIDTH} ${TOP + height + 30}`} role="img" aria-label={name}>
        <rect className="drawing-picture" x="1.5" y={TOP} width={PICTURE_WIDTH} height={height} />
        <text x={PICTURE_WIDTH / 2} y={TOP + height / 2 + 5} textAnchor="middle">
          {`${Number(pictureAspect.toPrecision(3))} : 1`}
        </text>
        {width_m !== null && (
          <text className="drawing-number" x={PICTURE_WIDTH / 2} y={TOP + height + 20} textAnchor="middle">
            {width_m}
          </text>
        )}
        {height_m !== null && (
          <text className="drawing-number" x={PICTURE_WIDTH + 9} y={TOP + height / 2 + 5}>
            {height_m}
          </text>
        )}
      </svg>
    </figure>
  );
}
