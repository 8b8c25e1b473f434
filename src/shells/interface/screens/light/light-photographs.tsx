/** The photographs that light is measured in, and those that tell what the camera's own lens takes. */
import { type DragEvent, useId, useRef, useState } from 'react';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { Failure } from '../../../../contract/failures.ts';
import type { Light, LitPhotograph } from '../../../../contract/light.ts';
import type { Workspace } from '../../../../contract/workspace.ts';
import type { LightSubject } from '../../../../record/evenness.ts';
import { translate } from '../../../../wording/translate.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { ACCEPTED_TYPES, Choice, FileInput } from '../../parts/field.tsx';
import { FailureNotice } from '../../parts/notice.tsx';
import type { LightRole } from '../../../../record/roles.ts';

interface LightPhotographsProps {
  readonly host: Host;
  readonly light: Light;
  readonly workspace: Workspace;
}

const SUBJECTS: readonly LightSubject[] = ['target', 'open-gate'];
const OF_THE_PICTURE: Readonly<Record<LightSubject, readonly LightRole[]>> = {
  target: ['left-lens', 'right-lens'],
  'open-gate': ['bare', 'left-lens', 'right-lens'],
};
const OF_THE_CAMERA: readonly LightRole[] = ['flat-field', 'turned-camera'];

export function LightPhotographs({ host, light, workspace }: LightPhotographsProps) {
  const { subject, photographs } = light;
  const hasShots = workspace.shots.some(({ slot }) => slot === 'left-lens' || slot === 'right-lens');
  const places = (roles: readonly LightRole[]) => (
    <ul className="light-places">
      {roles.map((role) => (
        <LightPlace key={role} host={host} role={role} photograph={photographs[role]} subject={subject} />
      ))}
    </ul>
  );
  return (
    <section className="light-section" aria-labelledby="light-photographs">
      <h2 id="light-photographs">{translate('light.photographs')}</h2>
      <Choice
        label={translate('light.subject')}
        options={SUBJECTS.map((value) => ({ value, label: translate(`light.subject-${value}`) }))}
        value={subject}
        onChange={(value) => void host.call('light.set-subject', { subject: value })}
        hint={translate(`light.subject-hint-${subject}`)}
      />
      {places(OF_THE_PICTURE[subject])}
      {subject === 'target' && (
        <p>
          <Button
            whyNot={hasShots ? undefined : translate('light.no-shots')}
            onClick={() => void host.call('light.take-shots', {})}
          >
            {translate('light.take-shots')}
          </Button>
        </p>
      )}
      <h3>{translate('light.camera')}</h3>
      <p className="light-soft light-words">{translate('light.camera-what')}</p>
      {places(OF_THE_CAMERA)}
    </section>
  );
}

/** One photograph: what it is for, which file it is, another one, none. */

interface LightPlaceProps {
  readonly host: Host;
  readonly role: LightRole;
  readonly photograph: LitPhotograph | null;
  readonly subject: LightSubject;
}

const VIEW_PX = 240;

function LightPlace({ host, role, photograph, subject }: LightPlaceProps) {
  const input = useRef<HTMLInputElement>(null);
  const titleId = useId();
  const [failure, setFailure] = useState<Failure>();
  const [isSending, setSending] = useState(false);
  const send = async (file: File | undefined) => {
    if (!file) return;
    setFailure(undefined);
    setSending(true);
    const outcome = await host.addPhotograph({ set: 'light', role }, file);
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
        {failure && <FailureNotice failure={failure} onDismiss={() => setFailure(undefined)} />}
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
