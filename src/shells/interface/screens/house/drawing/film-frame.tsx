/** One frame of the film with both pictures, septum and frame line, to scale. */
import { translate } from '../../../../../wording/translate.ts';
import type { WordLength } from './house-drawing.tsx';
import { layOutFilm } from './lay-out-film.ts';
import type { HouseLengths } from './read-lengths.ts';

/** Width and height of a perforation and its distance from the edge, mm (from memory, unconfirmed): only drawn. */
const PERFORATION = { width: 2.8, height: 1.98, edge: 2.01 } as const;
/** Room for the words beside the film, in mm of the drawing. */
const WORDS_MM = 31;

export function FilmFrame({ lengths, word }: { readonly lengths: HouseLengths; readonly word: WordLength }) {
  const film = layOutFilm(lengths);
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
