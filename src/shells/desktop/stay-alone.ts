/** Two of us would write the same workspace: a second start shows the first one's window instead. */
import { app, BrowserWindow } from 'electron';

/** Whether this is the first start; otherwise the program ends. */
export function stayAlone(): boolean {
  if (!app.requestSingleInstanceLock()) {
    app.quit();
    return false;
  }
  app.on('second-instance', () => {
    const [window] = BrowserWindow.getAllWindows();
    if (window?.isMinimized()) window.restore();
    window?.show();
    window?.focus();
  });
  return true;
}
