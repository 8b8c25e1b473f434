/** Which keys there are. */
import { Fragment } from 'react';
import { Dialog } from '../parts/dialog.tsx';
import { translate } from '../../../wording/translate.ts';
import { KEY_COMMANDS } from './key-commands.ts';

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
        <div>
          <dt>
            <kbd>?</kbd>
          </dt>
          <dd>{translate('frame.command-keys')}</dd>
        </div>
      </dl>
      <p className="frame-keys-note">{translate('frame.keys-note')}</p>
    </Dialog>
  );
}
