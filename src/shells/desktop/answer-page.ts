/** What the preload asks is answered to our own page only, and only in the form that it has. */
import { type BrowserWindow, type IpcMainInvokeEvent, ipcMain } from 'electron';
import { z } from 'zod';
import type { ChosenPhotograph } from '../../contract/commands.ts';
import type { Outcome } from '../../contract/failures.ts';
import { CHANNELS } from './channels.ts';
import { choosePhotographs } from './choose-photographs.ts';
import { FAILURES } from './dialog-words.ts';
import { isOurAddress } from './page-address.ts';

const nothing = z.tuple([]);

export function answerPage(window: BrowserWindow): void {
  ipcMain.handle(
    CHANNELS.choosePhotographs,
    async (event, ...payload: unknown[]): Promise<Outcome<readonly ChosenPhotograph[]>> => {
      if (!isFromOurPage(event, window)) return { ok: false, failure: FAILURES.notOurPage };
      if (!nothing.safeParse(payload).success) return { ok: false, failure: FAILURES.wrongPayload };
      return choosePhotographs(window);
    },
  );
}

/** `senderFrame` is null where the frame has gone meanwhile. */
const isFromOurPage = ({ sender, senderFrame }: IpcMainInvokeEvent, { webContents }: BrowserWindow): boolean =>
  sender === webContents &&
  senderFrame !== null &&
  senderFrame === webContents.mainFrame &&
  isOurAddress(senderFrame.url);
