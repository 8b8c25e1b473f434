/** Polarizers: where the ghost is least, and which port is dark to which eye; each with one sentence first. */
import { useState } from 'react';
import { EMPTY_POLARIZERS } from '../../../../contract/polarizers.ts';
import { chooseCautions } from '../../../../wording/cautions.ts';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { Cautions, FailureNotice, StatusLine } from '../../parts/notice.tsx';
import { Choice } from '../../parts/field.tsx';
import { translate } from '../../../../wording/translate.ts';
import { LivePart } from './live-part.tsx';
import { NullPart } from './null-part.tsx';
import { PortsPart } from './ports-part.tsx';
import { useSending } from './drop-zone.tsx';
import './polarizers.css';

const PARTS = ['null', 'live', 'ports'] as const;
type Part = (typeof PARTS)[number];

export function PolarizersScreen({ host, workspace }: ScreenProps) {
  const [part, setPart] = useState<Part>('null');
  const sending = useSending(host);
  const { setting, port_shots } = workspace.polarizers ?? EMPTY_POLARIZERS;
  const isPolarizerTurned = setting.turned === 'polarizer';
  const ofPorts = port_shots?.cautions ?? chooseCautions({ atProjector: false, atHeight: false, atLitPort: true });
  const ofTurning = chooseCautions({
    atProjector: isPolarizerTurned,
    atHeight: false,
    atPolarizer: isPolarizerTurned,
  });
  return (
    // A file that misses its place is not for the shots either.
    <section
      className="polarizers"
      aria-label={translate('frame.polarizers')}
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        event.stopPropagation();
      }}
    >
      <div className="polarizers-parts">
        <Choice
          label={translate('polarizers.parts')}
          value={part}
          onChange={setPart}
          options={PARTS.map((value) => ({ value, label: translate(`polarizers.part-${value}`) }))}
        />
      </div>
      {sending.problems.map((problem) => (
        <FailureNotice key={problem.message} failure={problem} onDismiss={() => sending.dismiss(problem)} />
      ))}
      {sending.name !== undefined && <StatusLine>{translate('polarizers.sending', { name: sending.name })}</StatusLine>}
      {part === 'null' && <NullPart host={host} workspace={workspace} sending={sending} />}
      {part === 'live' && <LivePart host={host} workspace={workspace} />}
      {part === 'ports' && <PortsPart host={host} workspace={workspace} sending={sending} />}
      <Cautions cautions={part === 'ports' ? ofPorts : ofTurning} />
    </section>
  );
}
