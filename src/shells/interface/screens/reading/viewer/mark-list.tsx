/**
 * All marks as a list for the keyboard and for screen readers. It takes no room: the mark that is meant is shown in the
 * picture, with its card.
 */
import { type KeyboardEvent, memo, useId, useMemo } from 'react';
import type { Eye } from '../../../../../kernel/eye.ts';
import type { Point } from '../../../../../kernel/point.ts';
import type { MarkEvidence } from '../../../../../record/reading.ts';
import { translate } from '../../../../../wording/translate.ts';
import { formatMark, keyOfMark, type MarkWords, type Move, joinMarkWords } from '../layers/marks.ts';
import { moveOfKey } from './view-settings.ts';
import type { Size } from '../../../../../drawings/overlay-geometry.ts';

interface MarkListProps {
  /** In reading order. */
  readonly marks: readonly MarkEvidence[];
  readonly aspect: number;
  readonly active: number | undefined;
  readonly chosen: string | undefined;
  readonly onMove: (move: Move) => void;
  readonly onChoose: (mark: MarkEvidence | undefined) => void;
  readonly onFocus: () => void;
}

export const MarkList = memo(function MarkList(props: MarkListProps) {
  const { marks, aspect, active, chosen, onMove, onChoose, onFocus } = props;
  const id = useId();
  const words = useMemo(() => marks.map((mark) => joinMarkWords(formatMark(mark, aspect))), [marks, aspect]);
  const press = (event: KeyboardEvent) => {
    const move = moveOfKey(event);
    if (move) onMove(move);
    else if ((event.key === 'Enter' || event.key === ' ') && active !== undefined) onChoose(marks[active]);
    else if (event.key === 'Escape') onChoose(undefined);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <div
      className="reading-marks"
      role="listbox"
      tabIndex={0}
      aria-label={translate('reading.marks-list', { count: marks.length })}
      aria-activedescendant={active === undefined ? undefined : `${id}-${active}`}
      onKeyDown={press}
      onFocus={onFocus}
    >
      {marks.map((mark, i) => (
        <div
          key={keyOfMark(mark)}
          id={`${id}-${i}`}
          role="option"
          aria-selected={chosen === keyOfMark(mark)}
          tabIndex={-1}
        >
          {words[i]}
        </div>
      ))}
    </div>
  );
});

/** What is known of the mark that is pointed at, beside it. */

interface MarkCardProps {
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
