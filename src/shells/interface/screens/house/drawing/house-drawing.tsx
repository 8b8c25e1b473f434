/** The house as it is described so far: from the side, the picture from the front, and a frame of the film. */
import { translate } from '../../../../../wording/translate.ts';
import type { Tree } from '../draft.ts';
import { formatQuantity, type Quantity, type Units } from '../units.ts';
import { formatUnit } from '../word-problem.ts';
import { FilmFrame } from './film-frame.tsx';
import { readLengths } from './read-lengths.ts';
import { ScreenFront } from './screen-front.tsx';
import { SideView } from './side-view.tsx';
import './drawing.css';

export interface HouseDrawingProps {
  readonly tree: Tree;
  readonly units: Units;
}

export type WordLength = (value: number, quantity: Quantity) => string;

export function HouseDrawing({ tree, units }: HouseDrawingProps) {
  const lengths = readLengths(tree);
  // A drawing is read at a glance: few figures are enough.
  const word: WordLength = (value, quantity) =>
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
