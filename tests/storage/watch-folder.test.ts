import { appendFile, mkdir, mkdtemp, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { watchFolder } from '../../src/storage/watch-folder.ts';

/** What is told, and how to wait for it. */
async function watchNew(prepare: (folder: string) => Promise<void> = async () => {}) {
  const parent = await mkdtemp(join(tmpdir(), 'watched-'));
  const folder = join(parent, 'card');
  await mkdir(folder);
  await prepare(folder);
  const told: string[] = [];
  const waiting = new Set<() => void>();
  const tell = (what: string) => {
    told.push(what);
    for (const look of waiting) look();
  };
  const watch = watchFolder(folder, {
    onFile: (path) => tell(path.slice(folder.length + 1)),
    onPresence: (isThere) => tell(isThere ? '(there)' : '(gone)'),
  });
  onTestFinished(async () => {
    await watch.close();
    await rm(parent, { recursive: true, force: true });
  });
  const until = (what: readonly string[]) =>
    new Promise<void>((resolve) => {
      const look = () => {
        if (told.length < what.length) return;
        waiting.delete(look);
        resolve();
      };
      waiting.add(look);
      look();
    }).then(() => expect(told).toEqual(what));
  await until(['(there)']);
  return { folder, parent, until };
}

describe('a watched folder', () => {
  it('tells of new files, in folders of a camera as well, and not of those that lay there', async () => {
    const { folder, until } = await watchNew((at) => writeFile(join(at, 'old.jpg'), 'old'));
    await mkdir(join(folder, 'DCIM', '100CAM'), { recursive: true });
    await writeFile(join(folder, 'DCIM', '100CAM', 'a.jpg'), 'a');
    await until(['(there)', join('DCIM', '100CAM', 'a.jpg')]);
    await writeFile(join(folder, 'old.jpg'), 'written anew');
    await until(['(there)', join('DCIM', '100CAM', 'a.jpg'), 'old.jpg']);
  });

  it('tells of a file once, when it is whole and has its name', async () => {
    const { folder, until } = await watchNew();
    await writeFile(join(folder, 'a.jpg.part'), 'half');
    await writeFile(join(folder, 'b.jpg'), 'half');
    await appendFile(join(folder, 'b.jpg'), ' and half');
    await until(['(there)', 'b.jpg']);
    await rename(join(folder, 'a.jpg.part'), join(folder, 'a.jpg'));
    await until(['(there)', 'b.jpg', 'a.jpg']);
  });

  it('that vanishes is waited for, and what is new when it comes back is told of', async () => {
    const { folder, parent, until } = await watchNew((at) => writeFile(join(at, 'old.jpg'), 'old'));
    await rename(folder, join(parent, 'away'));
    await until(['(there)', '(gone)']);
    await writeFile(join(parent, 'away', 'new.jpg'), 'new');
    await rename(join(parent, 'away'), folder);
    await until(['(there)', '(gone)', 'new.jpg', '(there)']);
  });
});
