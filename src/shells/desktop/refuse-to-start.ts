/** Where there is nothing to show, the reason stands in a dialog of the system, and the program ends. */
import { app, dialog } from 'electron';
import { DIALOG_WORDS } from './dialog-words.ts';

export function refuseToStart(...lines: readonly string[]): void {
  dialog.showErrorBox(DIALOG_WORDS.cannotStart, lines.join('\n\n'));
  app.exit(1);
}
