/**
 * The system's dialogs for photographs, with the bytes of what was chosen, and for a folder. They open for our own page only, and only when asked
 * in the form that the contract has.
 */
import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { type BrowserWindow, dialog, type IpcMainInvokeEvent, ipcMain } from 'electron';
import { z } from 'zod';
import { MAX_PHOTOGRAPH_BYTES } from '../../contract/addresses.ts';
import { CHANNELS, type ChosenPhotograph, MAX_CHOSEN_PHOTOGRAPHS } from '../../contract/commands.ts';
import type { Failure, Outcome } from '../../contract/failures.ts';
import { SHOT_SLOTS } from '../../record/roles.ts';
import { translateFailure } from '../../wording/failures.ts';
import { translate } from '../../wording/translate.ts';
import { isOurAddress } from './page-address.ts';

const nothing = z.tuple([]);

export function answerPage(window: BrowserWindow): void {
  const answer = <T>(channel: string, ask: () => Promise<Outcome<T>>) =>
    ipcMain.handle(channel, async (event, ...payload: unknown[]): Promise<Outcome<T>> => {
      if (!isFromOurPage(event, window)) return { ok: false, failure: translateFailure('not-our-page') };
      if (!nothing.safeParse(payload).success) return { ok: false, failure: translateFailure('unknown-payload') };
      return ask();
    });
  answer(CHANNELS.choosePhotographs, () => choosePhotographs(window));
  answer(CHANNELS.chooseFolder, async () => {
    const { filePaths } = await dialog.showOpenDialog(window, {
      title: translate('desktop.choose-folder'),
      properties: ['openDirectory'],
    });
    return { ok: true, value: filePaths[0] ?? null };
  });
}

/** `senderFrame` is null where the frame has gone meanwhile. */
const isFromOurPage = ({ sender, senderFrame }: IpcMainInvokeEvent, { webContents }: BrowserWindow): boolean =>
  sender === webContents &&
  senderFrame !== null &&
  senderFrame === webContents.mainFrame &&
  isOurAddress(senderFrame.url);

/** There is a place for so many; more would only fill the memory. */
const MAX_TOTAL_BYTES = SHOT_SLOTS.length * MAX_PHOTOGRAPH_BYTES;

const inMB = (bytes: number) => bytes / 2 ** 20;

async function choosePhotographs(window: BrowserWindow): Promise<Outcome<readonly ChosenPhotograph[]>> {
  const { canceled, filePaths } = await dialog.showOpenDialog(window, {
    title: translate('desktop.choose-photographs'),
    properties: ['openFile', 'multiSelections'],
    filters: [
      { name: translate('desktop.photographs'), extensions: ['jpg', 'jpeg', 'png', 'tif', 'tiff'] },
      { name: translate('desktop.all-files'), extensions: ['*'] },
    ],
  });
  if (canceled) return { ok: true, value: [] };
  const failure = await findFailure(filePaths);
  if (failure) return { ok: false, failure };
  const chosen: ChosenPhotograph[] = [];
  for (const path of filePaths) {
    const bytes = await readFile(path).catch(() => undefined);
    if (!bytes) return { ok: false, failure: translateFailure('unreadable-file', { name: basename(path) }) };
    // A copy, because the bytes may be a part of a larger buffer of Node's.
    chosen.push({ name: basename(path), bytes: new Uint8Array(bytes).buffer });
  }
  return { ok: true, value: chosen };
}

/** Sizes are looked at before anything is read. */
async function findFailure(paths: readonly string[]): Promise<Failure | undefined> {
  if (paths.length > MAX_CHOSEN_PHOTOGRAPHS)
    return translateFailure('too-many-photographs', { count: paths.length, limit: MAX_CHOSEN_PHOTOGRAPHS });
  let together = 0;
  for (const path of paths) {
    const facts = await stat(path).catch(() => undefined);
    if (!facts?.isFile()) return translateFailure('unreadable-file', { name: basename(path) });
    if (facts.size > MAX_PHOTOGRAPH_BYTES) {
      return translateFailure('photograph-too-large', { name: basename(path), limit_mb: inMB(MAX_PHOTOGRAPH_BYTES) });
    }
    together += facts.size;
  }
  return together > MAX_TOTAL_BYTES
    ? translateFailure('photographs-too-large', { limit_mb: inMB(MAX_TOTAL_BYTES) })
    : undefined;
}
