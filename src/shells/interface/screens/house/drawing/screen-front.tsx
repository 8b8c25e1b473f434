/** The picture as the audience sees it, with its size. */
import { translate } from '../../../../../wording/translate.ts';
import type { WordLength } from './house-drawing.tsx';
import type { HouseLengths } from './read-lengths.ts';

const WIDTH = 300;
const PICTURE_WIDTH = 230;
const TOP = 8;

export function ScreenFront({ lengths, word }: { readonly lengths: HouseLengths; readonly word: WordLength }) {
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
