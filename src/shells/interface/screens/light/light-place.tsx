/** One photograph: what it is for, which file it is, another one, none. */
import { type DragEvent, useId, useRef, useState } from 'react';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { LitPhotograph } from '../../../../contract/light.ts';
import type { Failure } from '../../../../contract/failures.ts';
import type { LightRole, LightSubject } from '../../../../record/evenness.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { ACCEPTED_TYPES, FileInput } from '../../parts/file-input.tsx';
import { Notice } from '../../parts/notice.tsx';
import { translate } from '../../../../wording/translate.ts';

export interface LightPlaceProps {
  readonly host: Host;
  readonly role: LightRole;
  readonly photograph: LitPhotograph | null;
  readonly subject: LightSubject;
}

const VIEW_PX = 240;

export function LightPlace({ host, role, photograph, subject }: LightPlaceProps) {
  const input = useRef<HTMLInputElement>(null);
  const titleId = useId();
  const [failure, setFailure] = useState<Failure>();
  const [isSending, setSending] = useState(false);
  const send = async (file: File | undefined) => {
    if (!file) return;
    setFailure(undefined);
    setSending(true);
    const outcome = await host.addToLight(role, file);
    setSending(false);
    if (!outcome.ok) setFailure(outcome.failure);
  };
  const onDrop = (event: DragEvent) => {
    event.preventDefault();
    void send(event.dataTransfer.files[0]);
  };
  const title = translate(`light.role-${role}`);
  return (
    <li
      className="light-place"
      onDragOver={(event) => event.preventDefault()}
      onDrop={onDrop}
      aria-labelledby={titleId}
    >
      {photograph ? (
        <img className="light-thumb" src={ADDRESSES.photograph(photograph.sha256, VIEW_PX)} alt="" />
      ) : (
        <span className="light-thumb light-thumb-empty" aria-hidden="true" />
      )}
      <div className="light-place-words">
        <strong id={titleId}>{title}</strong>
        <span className="light-soft">
          {isSending
            ? translate('light.sending')
            : (photograph?.name ?? translate(`light.role-hint-${role}`, { subject }))}
        </span>
        <span className="light-place-tools">
          <Button
            kind={photograph ? 'quiet' : 'plain'}
            onClick={() => input.current?.click()}
            name={translate(photograph ? 'light.choose-other-for' : 'light.choose-for', { title })}
          >
            {translate(photograph ? 'light.choose-other' : 'light.choose')}
          </Button>
          {photograph && (
            <Button
              kind="quiet"
              onClick={() => void host.call('light.remove', { role })}
              name={translate('light.remove-of', { title })}
            >
              {translate('light.remove')}
            </Button>
          )}
        </span>
        {failure && (
          <Notice
            kind="problem"
            isUrgent
            message={failure.message}
            remedy={failure.remedy}
            onDismiss={() => setFailure(undefined)}
          />
        )}
      </div>
      <FileInput
        input={input}
        accept={ACCEPTED_TYPES}
        label={translate('light.choose-for', { title })}
        onFiles={([file]) => void send(file)}
      />
    </li>
  );
}
