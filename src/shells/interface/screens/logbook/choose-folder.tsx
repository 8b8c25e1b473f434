/** Where the logbook lies: a folder is opened where there is a logbook in it, and one is begun only when that is asked for. */
import { useState } from 'react';
import type { Failure } from '../../../../contract/failures.ts';
import type { LogbookOverview } from '../../../../contract/logbook.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { translate } from '../../../../wording/translate.ts';

export interface ChooseFolderProps {
  readonly host: Host;
  readonly overview: LogbookOverview;
  readonly onChosen: () => void;
}

export function ChooseFolder({ host, overview, onChosen }: ChooseFolderProps) {
  const [folder, setFolder] = useState(overview.folder ?? overview.usual_folder);
  const [failure, setFailure] = useState<Failure>();
  const choose = async (create: boolean) => {
    const outcome = await host.call('logbook.choose-folder', { folder: folder.trim(), create });
    setFailure(outcome.ok ? undefined : outcome.failure);
    if (outcome.ok) onChosen();
  };
  const whyNot = folder.trim() === '' ? translate('logbook.folder-needed') : undefined;
  const isMissing = failure?.code === 'logbook-missing';
  return (
    <div className="logbook-choose">
      <Field
        label={translate('logbook.folder')}
        value={folder}
        onChange={(text) => {
          setFolder(text);
          setFailure(undefined);
        }}
        hint={translate('logbook.folder-hint')}
      />
      {failure && !isMissing && <Notice kind="problem" isUrgent message={failure.message} remedy={failure.remedy} />}
      {isMissing && (
        <Notice
          kind="note"
          isUrgent
          message={translate('logbook.nothing-there')}
          remedy={translate('logbook.nothing-there-do')}
        >
          <div className="logbook-row">
            <Button kind="main" onClick={() => void choose(true)}>
              {translate('logbook.begin')}
            </Button>
          </div>
        </Notice>
      )}
      {!isMissing && (
        <div className="logbook-row">
          <Button kind={overview.folder === null ? 'main' : 'plain'} onClick={() => void choose(false)} whyNot={whyNot}>
            {translate('logbook.open')}
          </Button>
        </div>
      )}
    </div>
  );
}
