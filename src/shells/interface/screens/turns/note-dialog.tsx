/** Which turns were made, when they were others than advised. */
import { useState } from 'react';
import type { TurnMade } from '../../../../contract/workspace.ts';
import type { HouseAdjustment } from '../../../../record/house-adjustments.ts';
import { capitalise, shortenLabel } from '../../../../wording/turns.ts';
import { Button } from '../../parts/button.tsx';
import { Choice } from '../../parts/choice.tsx';
import { Dialog } from '../../parts/dialog.tsx';
import { Field } from '../../parts/field.tsx';
import { translate } from '../../../../wording/translate.ts';
import { makeLines, type NoteLine, readLine, readLines } from './note-form.ts';

export interface NoteDialogProps {
  readonly adjustments: readonly HouseAdjustment[];
  readonly noted: readonly TurnMade[];
  readonly onClose: () => void;
  readonly onNote: (made: TurnMade[]) => void;
}

export function NoteDialog({ adjustments, noted, onClose, onNote }: NoteDialogProps) {
  const [lines, setLines] = useState(() => makeLines(adjustments, noted));
  const made = readLines(lines);
  const change = (adjustment: string, to: Partial<NoteLine>) =>
    setLines((before) => before.map((line) => (line.adjustment === adjustment ? { ...line, ...to } : line)));
  return (
    <Dialog
      title={translate('turns.note-title')}
      onClose={onClose}
      answers={
        <>
          <Button
            kind="main"
            onClick={() => made && onNote(made)}
            whyNot={made === null ? translate('turns.note-unreadable') : undefined}
          >
            {translate('turns.note-keep')}
          </Button>
          <Button onClick={onClose}>{translate('turns.note-leave')}</Button>
        </>
      }
    >
      <p>{translate('turns.note-how')}</p>
      {lines.map((line) => {
        const name = capitalise(shortenLabel(line.label));
        return (
          <fieldset key={line.adjustment} className="turns-note-line" aria-label={name}>
            <Field
              label={name}
              value={line.amount}
              onChange={(amount) => change(line.adjustment, { amount })}
              unit={translate(line.isByHand ? 'turns.unit-degrees' : 'turns.unit-turns')}
              kind="number"
              problem={readLine(line) === null ? translate('turns.note-problem') : undefined}
            />
            <Choice
              label={translate(line.isByHand ? 'turns.note-way-hand' : 'turns.note-way')}
              value={line.direction}
              onChange={(direction) => change(line.adjustment, { direction })}
              options={(['clockwise', 'counter-clockwise'] as const).map((value) => ({
                value,
                label: translate(`turns.${value}`),
              }))}
            />
          </fieldset>
        );
      })}
    </Dialog>
  );
}
