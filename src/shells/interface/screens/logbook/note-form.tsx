/** A note, or photographs, added to an entry later; the entry itself never changes. */
import { useRef, useState } from 'react';
import type { Failure } from '../../../../contract/failures.ts';
import type { WaitingPhotograph } from '../../../../contract/logbook.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { ACCEPTED_TYPES, Field, FileInput } from '../../parts/field.tsx';
import { FailureNotice } from '../../parts/notice.tsx';
import { translate } from '../../../../wording/translate.ts';

export interface NoteFormProps {
  readonly host: Host;
  readonly entry: string;
  readonly onAdded: () => void;
}

export function NoteForm({ host, entry, onAdded }: NoteFormProps) {
  const [by, setBy] = useState('');
  const [note, setNote] = useState('');
  const [photographs, setPhotographs] = useState<readonly WaitingPhotograph[]>([]);
  const [failure, setFailure] = useState<Failure>();
  const input = useRef<HTMLInputElement>(null);

  const take = async (files: readonly File[]) => {
    for (const file of files) {
      const outcome = await host.addLogbookPhotograph(file);
      if (!outcome.ok) {
        setFailure(outcome.failure);
        return;
      }
      const { value } = outcome;
      setPhotographs((before) => [...before.filter(({ sha256 }) => sha256 !== value.sha256), value]);
    }
  };
  const add = async () => {
    const order = { entry, by: by || null, note: note || null, photographs: [...photographs] };
    const outcome = await host.call('logbook.add-note', order);
    setFailure(outcome.ok ? undefined : outcome.failure);
    if (!outcome.ok) return;
    setNote('');
    setPhotographs([]);
    onAdded();
  };

  return (
    <div className="logbook-note-form">
      <Field label={translate('logbook.new-note')} kind="long-text" value={note} onChange={setNote} />
      <Field label={translate('logbook.by')} value={by} onChange={setBy} />
      {photographs.length > 0 && (
        <ul className="logbook-waiting">
          {photographs.map(({ sha256, name }) => (
            <li key={sha256}>
              {name}
              <Button
                kind="quiet"
                name={translate('logbook.leave-out-which', { name })}
                onClick={() => setPhotographs((before) => before.filter((each) => each.sha256 !== sha256))}
              >
                {translate('logbook.leave-out')}
              </Button>
            </li>
          ))}
        </ul>
      )}
      {failure && <FailureNotice failure={failure} />}
      <div className="logbook-row">
        <Button onClick={() => void add()}>{translate('logbook.add-note')}</Button>
        <Button kind="quiet" onClick={() => input.current!.click()}>
          {translate('logbook.add-photographs')}
        </Button>
        <FileInput input={input} accept={ACCEPTED_TYPES} areSeveral onFiles={(files) => void take(files)} />
      </div>
    </div>
  );
}
