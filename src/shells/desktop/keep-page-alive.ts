/**
 * A page that crashed or hangs is loaded anew: everything that counts is kept by the program, so nothing is lost. After
 * several crashes in a row the person decides.
 */
import { app, type BrowserWindow, dialog } from 'electron';
import { DIALOG_WORDS } from './dialog-words.ts';

const MOST_CRASHES = 3;
const WITHIN_MS = 60_000;

export function keepPageAlive(window: BrowserWindow): void {
  let crashes: number[] = [];
  window.webContents.on('render-process-gone', (_event, { reason }) => {
    if (reason === 'clean-exit' || window.isDestroyed()) return;
    const now = Date.now();
    crashes = [...crashes.filter((at) => now - at < WITHIN_MS), now];
    if (crashes.length <= MOST_CRASHES) window.webContents.reload();
    else void askAfterCrashes(window).then(() => (crashes = []));
  });

  let isAsking = false;
  window.on('unresponsive', () => {
    if (isAsking) return;
    isAsking = true;
    void askWhileHanging(window).finally(() => (isAsking = false));
  });
}

async function askAfterCrashes(window: BrowserWindow): Promise<void> {
  const { message, detail, tryAgain, close } = DIALOG_WORDS.pageFails;
  const buttons = [tryAgain, close];
  const { response } = await dialog.showMessageBox(window, { type: 'error', message, detail, buttons, cancelId: 1 });
  if (response === 0) window.webContents.reload();
  else app.quit();
}

async function askWhileHanging(window: BrowserWindow): Promise<void> {
  const { message, detail, wait, loadAnew } = DIALOG_WORDS.pageHangs;
  const buttons = [wait, loadAnew];
  const { response } = await dialog.showMessageBox(window, { type: 'warning', message, detail, buttons, cancelId: 0 });
  if (response !== 1) return;
  // A page that hangs cannot unload itself; its process is ended, and that loads it anew.
  window.webContents.forcefullyCrashRenderer();
}
