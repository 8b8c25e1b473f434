/** How long what is drawn really is: an arrow and a residual of a round amount, in words. */
import { formatLength, type Units } from '../../../lengths.ts';
import { translate } from '../../../../../wording/translate.ts';
import { formatGiven } from '../../../../../wording/numbers.ts';
import { millimetresOnScreen } from '../../../../../report/displacement.ts';
import type { ReadingHouse } from '../../../../../record/reading.ts';
import { chooseMeasure } from '../layers/round-lengths.ts';
import { factorAt, type ViewSettings } from './view-settings.ts';

export interface ScaleLegendProps {
  readonly settings: ViewSettings;
  readonly house: ReadingHouse;
  readonly units: Units;
  /** Screen px for one photo px, and photo px for one percent of the picture height. */
  readonly scale: number;
  readonly pixelsPerPercent: number;
}

const LONGEST_PX = 72;

export function ScaleLegend({ settings, house, units, scale, pixelsPerPercent }: ScaleLegendProps) {
  const { layers, arrowFactor, residualFactor } = settings;
  const arrow = chooseMeasure(factorAt(arrowFactor) * pixelsPerPercent * scale, LONGEST_PX);
  const residual = chooseMeasure(factorAt(residualFactor) * scale, LONGEST_PX);
  const millimetres = millimetresOnScreen(arrow.amount, house);
  return (
    <ul className="reading-scale">
      {layers.arrows && (
        <li>
          <MeasureMark length_px={arrow.length_px} isArrow />
          {translate('reading.arrow-scale', {
            percent: formatGiven(arrow.amount),
            isKnown: millimetres === null ? 'no' : 'yes',
            length: formatLength(millimetres ?? 0, units),
          })}
        </li>
      )}
      {layers.marks && (
        <li>
          <MeasureMark length_px={residual.length_px} isArrow={false} />
          {translate('reading.residual-scale', { px: formatGiven(residual.amount) })}
        </li>
      )}
    </ul>
  );
}

function MeasureMark({ length_px, isArrow }: { readonly length_px: number; readonly isArrow: boolean }) {
  const end = 1 + Math.max(2, length_px);
  const head = Math.min(9, 0.6 * length_px);
  return (
    <svg className="reading-measure" width={end + 1} height="12" viewBox={`0 0 ${end + 1} 12`} aria-hidden="true">
      <path d={`M1 6H${isArrow ? end - head : end}`} stroke="currentColor" strokeWidth="2" />
      {isArrow ? (
        <path d={`M${end} 6l${-head} ${-0.42 * head}v${0.84 * head}Z`} fill="currentColor" />
      ) : (
        <path d={`M1 2v8M${end} 2v8`} stroke="currentColor" strokeWidth="1.5" />
      )}
    </svg>
  );
}
