/** Asks before shots and rounds are put away. */
import type { Host } from '../host/host.ts';
import { Button } from '../parts/button.tsx';
import { Dialog } from '../parts/dialog.tsx';
import { translate } from '../../../wording/translate.ts';
import { showScreen } from './use-screen.ts';

export function BeginAnewDialog({ host, onClose }: { readonly host: Host; readonly onClose: () => void }) {
  const begin = async () => {
    onClose();
    const outcome = await host.call('workspace.begin-anew', {});
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
