/** What the operator should know, whichever screen is shown: a lost connection, a restarted engine, notices, failures. */
import type { Failure } from '../../../contract/failures.ts';
import type { Workspace } from '../../../contract/workspace.ts';
import type { Host } from '../host/host.ts';
import { FailureNotice, Notice } from '../parts/notice.tsx';
import { translate } from '../../../wording/translate.ts';

export interface NotificationsProps {
  readonly host: Host;
  readonly workspace: Workspace | undefined;
  readonly isLost: boolean;
  readonly isEngineRestarting: boolean;
  readonly failures: readonly Failure[];
  readonly onDismiss: (failure: Failure) => void;
}

export function Notifications({
  host,
  workspace,
  isLost,
  isEngineRestarting,
  failures,
  onDismiss,
}: NotificationsProps) {
  const notices = workspace?.notices ?? [];
  // The connection's own notice already says that nothing answers.
  const shown = isLost ? failures.filter(({ code }) => code !== 'host-unreachable') : failures;
  return (
    <div className="frame-news">
      {isLost && (
        <Notice kind="problem" isUrgent message={translate('frame.lost')} remedy={translate('frame.lost-remedy')} />
      )}
      {isEngineRestarting && !isLost && <Notice kind="note" isUrgent message={translate('frame.engine-restarting')} />}
      {shown.map((failure) => (
        <FailureNotice key={failure.code} failure={failure} onDismiss={() => onDismiss(failure)} />
      ))}
      {notices.map(({ code, message, remedy }, i) => (
        <Notice
          key={`${code} ${message}`}
          kind="note"
          message={message}
          remedy={remedy}
          onDismiss={i === 0 ? () => void host.call('workspace.dismiss-notices', {}) : undefined}
        />
      ))}
    </div>
  );
}
