/** More files than can be told apart: which of them is which. */
import { useState } from 'react';
import { SHOT_SLOTS, type ShotSlot } from '../../../../contract/shots.ts';
import { Button } from '../../parts/button.tsx';
import { ListChoice } from '../../parts/choice.tsx';
import { Dialog } from '../../parts/dialog.tsx';
import { translate } from '../../../../wording/translate.ts';
import type { Assignment } from './assign-files.ts';

export interface WhichDialogProps {
  readonly files: readonly File[];
  readonly proposal: Assignment;
  readonly onAnswer: (assignment: Assignment | null) => void;
}

const NONE = 'none';

export function WhichDialog({ files, proposal, onAnswer }: WhichDialogProps) {
  const [chosen, setChosen] = useState<Assignment>(proposal);
  const options = [
    { value: NONE, label: translate('shots.which-none') },
    ...files.map(({ name }, i) => ({ value: String(i), label: name })),
  ];
  const choose = (slot: ShotSlot, value: string) => {
    const others = Object.entries(chosen).filter(([each, index]) => each !== slot && String(index) !== value);
    setChosen(Object.fromEntries(value === NONE ? others : [...others, [slot, Number(value)]]));
  };
  const isEmpty = Object.keys(chosen).length === 0;
  return (
    <Dialog
      title={translate('shots.which', { count: files.length })}
      onClose={() => onAnswer(null)}
      answers={
        <>
          <Button onClick={() => onAnswer(chosen)} whyNot={isEmpty ? translate('shots.which-nothing') : undefined}>
            {translate('shots.which-take')}
          </Button>
          <Button kind="quiet" onClick={() => onAnswer(null)}>
            {translate('shots.which-leave')}
          </Button>
        </>
      }
    >
      <p>{translate('shots.which-what')}</p>
      <div className="shots-which">
        {SHOT_SLOTS.map((slot) => (
          <ListChoice
            key={slot}
            label={translate(`shots.slot-${slot}`)}
            options={options}
            value={chosen[slot] === undefined ? NONE : String(chosen[slot])}
            onChange={(value) => choose(slot, value)}
          />
        ))}
      </div>
    </Dialog>
  );
}
