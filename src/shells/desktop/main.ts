/** The desktop's entry: what must be said before the runtime is ready, then the program itself. */
import { app } from 'electron';
import { refuseToStart, ensureSingleInstance } from './app-lifecycle.ts';
import { blockNetwork } from './guards.ts';
import { registerScheme } from './serve-page.ts';
import { startDesktop } from './start-desktop.ts';

app.enableSandbox();
blockNetwork();
registerScheme();
if (ensureSingleInstance()) {
  const started = app.whenReady().then(startDesktop);
  started.catch((fault) => refuseToStart(String(fault)));
}
