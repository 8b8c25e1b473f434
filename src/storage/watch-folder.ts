/**
 * Watches a folder for photographs that other programs write there: a tethering program, the card of a camera, the
 * synchronisation of a telephone. A file is told of once it has stopped growing. What lay there at the beginning is no
 * news. A folder that vanishes is waited for, and what is new in it when it comes back is told of.
 */
import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { type FSWatcher, watch } from 'chokidar';

export interface FolderListener {
  /** A new file, or one with new content. */
  readonly onFile: (path: string) => void;
  readonly onPresence: (isThere: boolean) => void;
}

export interface FolderWatch {
  /** Resolves when it is known what lies there: everything after it is news. */
  readonly ready: Promise<void>;
  close(): Promise<void>;
}

/** A file that has not grown for so long is whole: programs that write photographs pause for less. */
const SETTLED_MS = 700;
const LOOK_MS = 150;
/** How often a folder that may have vanished is looked for. */
const PRESENCE_MS = 700;
/** Cameras make folders within folders, such as `DCIM/100CAM`. */
const DEPTH = 3;
/** Hidden files, and those that a program has not given their name yet. */
const UNFINISHED = /^[.~]|\.(part|partial|tmp|temp|crdownload|download)$/i;

export function watchFolder(folder: string, { onFile, onPresence }: FolderListener): FolderWatch {
  /** What each file was like when it was told of last. */
  const known = new Map<string, string>();
  let watcher: FSWatcher | undefined;
  let isFirst = true;
  let tellReady = () => {};
  const ready = new Promise<void>((resolve) => {
    tellReady = resolve;
  });
  let isClosed = false;

  const begin = () => {
    // What is new in a folder that came back is news from the beginning.
    let isNews = !isFirst;

    const found = watch(folder, {
      depth: DEPTH,
      followSymlinks: false,
      alwaysStat: true,
      ignorePermissionErrors: true,
      ignored: (path) => path !== folder && UNFINISHED.test(basename(path)),
      awaitWriteFinish: { stabilityThreshold: SETTLED_MS, pollInterval: LOOK_MS },
    });
    watcher = found;
    const hear = (path: string, facts: { size: number; mtimeMs: number } | undefined) => {
      const state = `${facts?.size} ${facts?.mtimeMs}`;
      if (known.get(path) === state) return;
      known.set(path, state);
      if (isNews) onFile(path);
    };
    found.on('add', hear);
    found.on('change', hear);
    // What cannot be read is heard of when somebody tries to.
    found.on('error', () => undefined);
    found.once('ready', () => {
      isFirst = false;
      isNews = true;
      tellReady();
      onPresence(true);
    });
  };

  const end = async () => {
    const closing = watcher;
    watcher = undefined;
    await closing?.close();
  };

  const look = async () => {
    const isThere = await stat(folder).then(
      (facts) => facts.isDirectory(),
      () => false,
    );
    if (isClosed) return;
    if (isThere && !watcher) begin();
    else if (!isThere && watcher) {
      await end();
      onPresence(false);
    }
  };
  begin();
  const timer = setInterval(() => void look(), PRESENCE_MS);

  return {
    ready,
    async close() {
      isClosed = true;
      tellReady();
      clearInterval(timer);
      await end();
    },
  };
}
