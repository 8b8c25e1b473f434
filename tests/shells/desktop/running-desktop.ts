/** The desktop as a person has it before them, on a stand-in for the runtime or on the runtime itself. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { _electron, type Page } from 'playwright';
import type { Command } from '../../../src/contract/commands.ts';
import { launchBrowser } from '../../interface/launch-browser.ts';
import { ElectronStandIn } from './electron-stand-in.ts';
import { findRuntime } from './find-runtime.ts';
import { showPage } from './show-page.ts';
import { ROOT, startBuiltDesktop, untilEnd, untilWindow } from './start-built-desktop.ts';

export interface RunningDesktop {
  readonly page: Page;
  /** Errors of the page and of its console. */
  readonly complaints: readonly string[];
  /** Clicks the entry of the menu. */
  readonly choose: (command: Command) => Promise<void>;
  /** The files that the system's next dialog answers with. */
  readonly willPick: (paths: readonly string[]) => Promise<void>;
  readonly close: () => Promise<void>;
}

export async function startOnStandIn(): Promise<RunningDesktop> {
  const folder = mkdtempSync(join(tmpdir(), 'desktop-'));
  const runtime = new ElectronStandIn({ appData: folder, documents: folder });
  await startBuiltDesktop(runtime);
  const window = await untilWindow(runtime);
  const browser = await launchBrowser();
  const shown = await showPage(runtime, window, browser);
  return {
    page: shown.page,
    complaints: shown.complaints,
    choose: async (command) => {
      const entries = runtime.menu.flatMap(({ submenu }) => (Array.isArray(submenu) ? submenu : []));
      (entries.find(({ id }) => id === command)!.click as () => void)();
    },
    willPick: async (paths) => {
      runtime.chosenFiles.push(paths);
    },
    close: async () => {
      await shown.close();
      await browser.close();
      await untilEnd(runtime);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export async function startOnRuntime(): Promise<RunningDesktop> {
  const found = findRuntime();
  if ('missing' in found) throw new Error(found.missing);
  const folder = mkdtempSync(join(tmpdir(), 'desktop-'));
  const args = [ROOT, `--user-data-dir=${folder}`, ...(process.getuid?.() === 0 ? ['--no-sandbox'] : [])];
  const program = await _electron.launch({
    executablePath: found.path,
    args,
    env: { ...(process.env as Record<string, string>), TWINPLUMB_FOLDER: join(folder, 'work') },
  });
  const page = await program.firstWindow();
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  return {
    page,
    complaints,
    choose: (command) =>
      program.evaluate(({ Menu }, id) => Menu.getApplicationMenu()!.getMenuItemById(id)!.click(), command),
    willPick: (paths) =>
      program.evaluate(
        ({ dialog }, filePaths) => {
          dialog.showOpenDialog = async () => ({ canceled: false, filePaths });
        },
        [...paths],
      ),
    close: async () => {
      await program.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
