/** Opens the work, serves it to one window, and puts it away when the window closes. */
import { join } from 'node:path';
import { app, Menu } from 'electron';
import { findPackage } from '../../storage/find-package.ts';
import { startEngine } from '../../engine/start-engine.ts';
import { findDefaultFolder } from '../../workspace/default-folder.ts';
import { openWorkspace } from '../../workspace/open-workspace.ts';
import { CHANNELS } from '../../contract/commands.ts';
import { createGateway } from '../gateway/create-gateway.ts';
import { closeGracefully, recoverPage, refuseToStart } from './app-lifecycle.ts';
import { buildMenu } from './build-menu.ts';
import { answerPage } from './choose-photographs.ts';
import { openWindow } from './open-window.ts';
import { PAGE_ADDRESS, PAGE_ORIGIN } from './page-address.ts';
import { printPages } from './print-pages.ts';
import { servePage } from './serve-page.ts';

export async function startDesktop(): Promise<void> {
  const { root, version } = findPackage();
  const built = join(root, 'out');
  const folder = findDefaultFolder();
  const engine = startEngine({ workerPath: join(built, 'node', 'engine-worker.js') });
  const opened = await openWorkspace({
    folder,
    engine,
    softwareVersion: version,
    printPdf: printPages,
    onFault: noteFault,
  });
  if (!opened.ok) {
    await engine.close();
    refuseToStart(opened.failure.message, opened.failure.remedy);
    return;
  }
  const work = opened.value;
  const interfaceFolder = join(built, 'interface');
  servePage(await createGateway({ work, interfaceFolder, origin: PAGE_ORIGIN, onFault: noteFault }));

  const { isPackaged } = app;
  const window = openWindow({ preloadPath: join(built, 'preload', 'desktop.cjs'), isPackaged });
  const menu = buildMenu((command) => window.webContents.send(CHANNELS.command, command), {
    isMac: process.platform === 'darwin',
    isPackaged,
  });
  Menu.setApplicationMenu(Menu.buildFromTemplate(menu));
  answerPage(window);
  recoverPage(window);
  closeGracefully(window, async () => {
    await work.close();
    await engine.close();
  });
  await window.loadURL(PAGE_ADDRESS);
  // While the person looks for photographs, so that the first measurement does not wait for it.
  void engine.run('warm-up', undefined).catch(() => undefined);
}

/** The page says that there was a fault; what it was is for those who start the program from a terminal. */
function noteFault(fault: unknown): void {
  process.stderr.write(`${fault instanceof Error ? fault.stack : String(fault)}\n`);
}
