/** The one window, with everything shut that a page does not need. */
import { BrowserWindow } from 'electron';
import { guardDownloads, guardNavigation, guardNetwork, guardPermissions } from './guards.ts';

export interface WindowPlace {
  readonly preloadPath: string;
  readonly isPackaged: boolean;
}

/** Nothing is loaded yet: the guards stand before the first request. */
export function openWindow({ preloadPath, isPackaged }: WindowPlace): BrowserWindow {
  const window = new BrowserWindow({
    title: 'Twinplumb',
    width: 1280,
    height: 800,
    minWidth: 640,
    minHeight: 480,
    show: false,
    // As dark as the booth theme, so that nobody's eyes are dazzled before the page is drawn.
    backgroundColor: '#101214',
    webPreferences: {
      preload: preloadPath,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      spellcheck: false,
      devTools: !isPackaged,
      // Letters are scaled by the page itself, in whole layouts; live frames go on behind another window.
      zoomFactor: 1,
      backgroundThrottling: false,
    },
  });
  guardNavigation(window.webContents);
  guardPermissions(window.webContents);
  guardNetwork(window.webContents);
  guardDownloads(window.webContents);
  window.once('ready-to-show', () => window.show());
  return window;
}
