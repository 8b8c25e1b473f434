/** The photographs that light is measured in, and those that tell what the camera's own lens takes. */
import type { Light } from '../../../../contract/light.ts';
import type { Workspace } from '../../../../contract/workspace.ts';
import type { LightRole, LightSubject } from '../../../../record/evenness.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { Choice } from '../../parts/choice.tsx';
import { translate } from '../../../../wording/translate.ts';
import { LightPlace } from './light-place.tsx';

export interface LightPhotographsProps {
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
