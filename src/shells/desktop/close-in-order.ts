/** The window closes when everything that it shows is on the disk, and the program ends with it. */
import { setTimeout as wait } from 'node:timers/promises';
import { app, type BrowserWindow } from 'electron';

/** A disk that does not answer must not keep the window open for ever; what is kept was kept after every change. */
const PATIENCE_MS = 10_000;

export function closeInOrder(window: BrowserWindow, putAway: () => Promise<void>): void {
  let isClosing = false;
  window.on('close', (event) => {
    event.preventDefault();
    if (isClosing) return;
    isClosing = true;
    const given = wait(PATIENCE_MS, undefined, { ref: false });
    void Promise.race([putAway().catch(() => undefined), given]).then(() => window.destroy());
  });
  // On macOS too: there is nothing to do without the window.
  app.on('window-all-closed', () => app.quit());
}
