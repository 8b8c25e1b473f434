/** Where the desktop keeps its work: the same folder from the sources and from a package. */
import { join } from 'node:path';
import { app } from 'electron';

/** Before the runtime is ready. Whoever names a folder when starting gets that one. */
export function chooseFolder(): void {
  app.setName('Twinplumb');
  if (!app.commandLine.hasSwitch('user-data-dir')) app.setPath('userData', join(app.getPath('appData'), 'Twinplumb'));
}

export const workFolder = (): string => join(app.getPath('userData'), 'work');
