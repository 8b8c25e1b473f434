/** What is known of the mark that is pointed at, beside it. */
import type { Point } from '../../../../../kernel/point.ts';
import type { Eye } from '../../../../../kernel/eye.ts';
import type { MarkWords } from '../layers/word-mark.ts';
import type { Size } from './viewport.ts';

export interface MarkCardProps {
  readonly words: MarkWords;
  readonly eye: Eye;
  /** Screen px. */
  readonly at: Point;
  readonly stage: Size;
}

const GAP_PX = 18;

export function MarkCard({ words, eye, at, stage }: MarkCardProps) {
  const isRight = at.x > stage.width / 2;
  const isLow = at.y > stage.height / 2;
  const place = {
    ...(isRight ? { right: stage.width - at.x + GAP_PX } : { left: at.x + GAP_PX }),
    ...(isLow ? { bottom: stage.height - at.y + GAP_PX } : { top: at.y + GAP_PX }),
  };
  return (
    <div className={`reading-card reading-card-${eye}`} style={place} aria-hidden="true">
      <p>
        <b>{words.id}</b> {words.picture}
      </p>
      <p className="reading-card-soft">{words.place}</p>
      <p>
        {words.residual}, {words.uncertainty}
      </p>
      <p>{words.standing}</p>
    </div>
  );
}
