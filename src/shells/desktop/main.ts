/** The desktop's entry: what must be said before the runtime is ready, then the program itself. */
import { app } from 'electron';
import { cutOffNetwork } from './guard-network.ts';
import { refuseToStart } from './refuse-to-start.ts';
import { registerScheme } from './serve-page.ts';
import { stayAlone } from './stay-alone.ts';
import { startDesktop } from './start-desktop.ts';

app.enableSandbox();
cutOffNetwork();
registerScheme();
if (stayAlone()) {
  const started = app.whenReady().then(startDesktop);
  started.catch((fault) => refuseToStart(String(fault)));
}
