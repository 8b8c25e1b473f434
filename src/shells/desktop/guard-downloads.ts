/** What leaves the program as a file does so through the system's dialog, and is one of our own files. */
import { join } from 'node:path';
import { app, type WebContents } from 'electron';
import { isOurAddress, isOurBlob } from './page-address.ts';

const OF_A_ROUND = /^\/rounds\/\d+\/(report\.html|reading\.json)$/;

export function guardDownloads(contents: WebContents): void {
  contents.session.on('will-download', (event, item) => {
    const address = item.getURL();
    const isOurs = isOurBlob(address) || (isOurAddress(address) && OF_A_ROUND.test(new URL(address).pathname));
    if (!isOurs) event.preventDefault();
    else item.setSaveDialogOptions({ defaultPath: join(app.getPath('documents'), item.getFilename()) });
  });
}
