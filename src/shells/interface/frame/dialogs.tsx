/** Which keys there are. */
import { Fragment } from 'react';
import { translate } from '../../../wording/translate.ts';
import type { Host } from '../host/host.ts';
import { Button } from '../parts/button.tsx';
import { Dialog } from '../parts/dialog.tsx';
import { KEY_COMMANDS } from './key-commands.ts';
import { showScreen } from './screens.ts';

export function KeysDialog({ onClose }: { readonly onClose: () => void }) {
  return (
    <Dialog title={translate('frame.keys')} onClose={onClose}>
      <dl className="frame-keys">
        {KEY_COMMANDS.map(({ keys, command }) => (
          <div key={command}>
            <dt>
              {keys.map((key, i) => (
                <Fragment key={key}>
                  {i > 0 && ' + '}
                  <kbd>{key}</kbd>
                </Fragment>
              ))}
            </dt>
            <dd>{translate(`frame.command-${command}`)}</dd>
          </div>
        ))}
      </dl>
      <p className="frame-keys-note">{translate('frame.keys-note')}</p>
    </Dialog>
  );
}

/** Asks before shots and rounds are put away. */

export function StartOverDialog({ host, onClose }: { readonly host: Host; readonly onClose: () => void }) {
  const begin = async () => {
    onClose();
    const outcome = await host.call('workspace.start-over', {});
    if (outcome.ok) showScreen('shots');
  };
  return (
    <Dialog
      title={translate('frame.begin-anew-title')}
      onClose={onClose}
      answers={
        <>
          <Button onClick={() => void begin()}>{translate('frame.begin-anew-yes')}</Button>
          <Button kind="quiet" onClick={onClose}>
            {translate('frame.begin-anew-no')}
          </Button>
        </>
      }
    >
      <p>{translate('frame.begin-anew-what')}</p>
    </Dialog>
  );
}
