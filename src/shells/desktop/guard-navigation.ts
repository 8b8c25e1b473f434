/** The window shows our page and nothing else, and opens no other: links to anywhere else lead nowhere. */
import type { WebContents } from 'electron';
import { isPageItself } from './page-address.ts';

export function guardNavigation(contents: WebContents): void {
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
  contents.on('will-attach-webview', (event) => event.preventDefault());
  // The page itself stays allowed, so that it can load itself anew.
  contents.on('will-frame-navigate', (event) => {
    if (!event.isMainFrame || !isPageItself(event.url)) event.preventDefault();
  });
  contents.on('will-navigate', (event) => {
    if (!isPageItself(event.url)) event.preventDefault();
  });
  contents.on('will-redirect', (event) => event.preventDefault());
}
