/** The mark that was chosen: both photographs around it, pixel for pixel, side by side and laid over each other. */
import { useEffect, useRef } from 'react';
import type { MarkEvidence as Mark, MeasuredReading } from '../../../../../record/reading.ts';
import { Button } from '../../../parts/button.tsx';
import { translate } from '../../../../../wording/translate.ts';
import { pixelsPerPercent } from '../../../../../drawings/overlay-geometry.ts';
import { formatMark } from '../layers/marks.ts';
import { TINT_BLUE, blendPlanes, makeTint, NEUTRAL, TINT_ORANGE, type Patch } from '../viewer/luminance-plane.ts';
import type { Photographs } from '../viewer/use-photographs.ts';

export interface MarkEvidenceProps {
  readonly mark: Mark;
  readonly reading: MeasuredReading;
  readonly photographs: Photographs | undefined;
  readonly onClose: () => void;
}

/** Half the side of a piece, in percent of the picture height: a mark and the black around it. */
const HALF_PCT = 5.5;
const SHOWN = ['left', 'right', 'both'] as const;
const SHOWN_OF_ONE = ['one'] as const;
type Shown = (typeof SHOWN | typeof SHOWN_OF_ONE)[number];

export function MarkEvidencePanel({ mark, reading, photographs, onClose }: MarkEvidenceProps) {
  const words = formatMark(mark, reading.house.aspect);
  const half = Math.round(HALF_PCT * pixelsPerPercent(reading));
  const [x, y] = mark.photo_px;
  const patch = { x: Math.round(x) - half, y: Math.round(y) - half, width: 2 * half + 1, height: 2 * half + 1 };
  return (
    <section
      className={`reading-evidence reading-evidence-${mark.eye}`}
      aria-label={translate('reading.evidence', { id: mark.id })}
    >
      <div className="reading-evidence-head">
        <h2>{translate('reading.evidence', { id: mark.id })}</h2>
        <Button kind="quiet" onClick={onClose}>
          {translate('reading.evidence-close')}
        </Button>
      </div>
      <p>
        {words.picture}, {words.place}
      </p>
      {photographs ? (
        <div className="reading-pieces">
          {(photographs.left === photographs.right ? SHOWN_OF_ONE : SHOWN).map((shown: Shown) => (
            <figure key={shown}>
              <Piece shown={shown} patch={patch} mark={mark} photographs={photographs} />
              <figcaption>{translate(`reading.piece-${shown}`)}</figcaption>
            </figure>
          ))}
        </div>
      ) : (
        <p className="reading-soft">{translate('reading.photographs-missing')}</p>
      )}
      <p>
        {words.residual}, {words.uncertainty}. {words.standing}.
      </p>
      <p className="reading-soft">
        {translate(reading.geometry_from === 'one-exposure' ? 'reading.piece-note-one' : 'reading.piece-note')}
      </p>
    </section>
  );
}

interface PieceProps {
  readonly shown: Shown;
  readonly patch: Patch;
  readonly mark: Mark;
  readonly photographs: Photographs;
}

function Piece({ shown, patch, mark, photographs: { left, right } }: PieceProps) {
  const ref = useRef<HTMLCanvasElement>(null);
  const { x, y, width, height } = patch;
  useEffect(() => {
    const orange = shown === 'one' ? NEUTRAL : TINT_ORANGE;
    const tinted = [
      ...(shown === 'right' ? [] : [{ plane: left.levels[0]!, tint: makeTint(orange, 1 / left.white) }]),
      ...(shown === 'left' || shown === 'one'
        ? []
        : [{ plane: right.levels[0]!, tint: makeTint(TINT_BLUE, 1 / right.white) }]),
    ];
    const rgba = blendPlanes(tinted, { x, y, width, height });
    ref.current!.getContext('2d')!.putImageData(new ImageData(rgba, width, height), 0, 0);
  }, [shown, x, y, width, height, left, right]);
  const [px, py] = mark.photo_px;
  const [rx, ry] = mark.residual_px;
  const arm = 0.16 * width;
  const gap = 0.03 * width;
  const cross = (cx: number, cy: number) =>
    `M${cx - arm} ${cy}H${cx - gap}M${cx + gap} ${cy}H${cx + arm}M${cx} ${cy - arm}V${cy - gap}M${cx} ${cy + gap}V${cy + arm}`;
  const path = cross(px - rx - x + 0.5, py - ry - y + 0.5);
  return (
    <span className="reading-piece">
      <canvas ref={ref} width={width} height={height} role="img" aria-label={translate(`reading.piece-${shown}`)} />
      <svg viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
        <path d={path} stroke="#0a0b0d" strokeWidth={0.03 * width} />
        <path d={path} stroke="#fff" strokeWidth={0.013 * width} />
      </svg>
    </span>
  );
}
