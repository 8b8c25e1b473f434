/** Nothing that was reported saved is lost or altered, and nothing is half there: kills, power cuts, full and locked disks. */
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type FileSystem, REAL_FILE_SYSTEM } from '../../src/storage/file-system.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { openLogbook } from '../../src/logbook/open-logbook.ts';
import { verifyLogbook } from '../../src/logbook/verify-logbook.ts';
import { cutPower, JournalFileSystem, type Loss } from './journal-file-system.ts';
import { killAndLook } from './kill-and-look.ts';
import { clock, keep, newEntry, newFolder, openAt } from './make-logbook.ts';

const order = { softwareVersion: '0.1.0' };
const filesIn = (folder: string): string[] => readdirSync(folder, { recursive: true, encoding: 'utf8' });

describe('a program that is killed', () => {
  it('at any of two dozen moments has lost nothing that it reported', async () => {
    const { told, whole, problems, quarantine } = await killAndLook({ kills: 24, seed: 1 });
    expect(told).toBeGreaterThan(10);
    expect({ whole, problems, quarantine }).toEqual({ whole: told, problems: [], quarantine: 0 });
  });

  it('beside another one that writes to the same logbook has neither', async () => {
    const { told, whole, problems, quarantine } = await killAndLook({ kills: 6, seed: 2, writers: 2 });
    expect(told).toBeGreaterThan(2);
    expect({ whole, problems, quarantine }).toEqual({ whole: told, problems: [], quarantine: 0 });
  });
});

describe('a power cut', () => {
  it.each<Loss>(['unsynced-lost', 'names-before-content', 'at-random'])(
    'after any step loses nothing that was reported, and leaves nothing half readable (%s)',
    async (loss) => {
      const random = createRandom(7);
      const fileSystem = new JournalFileSystem();
      const folder = newFolder();
      const photos = newFolder();
      const logbook = await openAt(folder, { fileSystem, now: clock() });
      const texts = new Map<string, string>();
      for (const mark of ['1', '2', '3']) {
        const id = await keep(logbook, newEntry(photos, mark));
        const found = await logbook.find(id);
        texts.set(id, found.outcome === 'found' ? found.text : '');
        fileSystem.steps.push({ kind: 'told', id });
      }
      await logbook.append({ entry: [...texts.keys()][0]!, note: 'later' });

      expect(fileSystem.steps.length).toBeGreaterThan(60);
      for (let cut = 0; cut <= fileSystem.steps.length; cut++) {
        const steps = fileSystem.steps.slice(0, cut);
        const left = join(newFolder(), 'left');
        mkdirSync(left);
        cutPower(steps, folder, left, loss, random);
        const told = steps.flatMap((step) => (step.kind === 'told' ? [step.id] : []));
        const opening = await openLogbook({ folder: left, create: true, ...order });
        if (opening.outcome === 'refused') throw new Error(`after ${cut} steps: ${opening.code}`);
        for (const id of told) {
          const found = await opening.logbook.find(id);
          if (found.outcome === 'refused') throw new Error(`after ${cut} steps ${id}: ${found.code}`);
          expect(found.text).toBe(texts.get(id));
        }
        // What is listed is whole, with its photographs, whether it was reported or not.
        const { problems } = await verifyLogbook({ folder: left, ...order });
        expect(problems, `after ${cut} steps`).toEqual([]);
        for (const { id } of opening.logbook.list()) expect(texts.has(id)).toBe(true);
      }
    },
  );

  it('is felt: without the sync of folders something reported is lost', async () => {
    const fileSystem = new JournalFileSystem();
    const folder = newFolder();
    const id = await keep(await openAt(folder, { fileSystem }), newEntry(newFolder(), '1'));
    const careless = fileSystem.steps.filter(({ kind }) => kind !== 'sync-folder');
    const left = join(newFolder(), 'left');
    mkdirSync(left);
    cutPower(careless, folder, left, 'unsynced-lost', createRandom(1));
    expect((await openAt(left)).list().map((entry) => entry.id)).not.toContain(id);
  });
});

/** Does as it is told until one call, and from then on answers with a fault, as a full disk does. */
function failAt(call: number, code: string): FileSystem & { readonly calls: () => number } {
  let calls = 0;
  const fail = () => {
    calls += 1;
    if (calls > call) throw Object.assign(new Error(code), { code });
  };
  return {
    calls: () => calls,
    makeFolder: async (path) => {
      fail();
      await REAL_FILE_SYSTEM.makeFolder(path);
    },
    write: async (path, content) => {
      if (calls >= call) await REAL_FILE_SYSTEM.write(path, Buffer.from(content as Uint8Array).subarray(0, 100));
      fail();
      return REAL_FILE_SYSTEM.write(path, content);
    },
    append: async (path, content) => {
      fail();
      await REAL_FILE_SYSTEM.append(path, content);
    },
    syncFile: async (path) => {
      fail();
      return REAL_FILE_SYSTEM.syncFile(path);
    },
    syncFolder: async (path) => {
      fail();
      return REAL_FILE_SYSTEM.syncFolder(path);
    },
    rename: async (from, to) => {
      fail();
      await REAL_FILE_SYSTEM.rename(from, to);
    },
    remove: (path) => REAL_FILE_SYSTEM.remove(path),
  };
}

describe('a disk', () => {
  it.each(['ENOSPC', 'EROFS', 'EIO', 'EDQUOT'])(
    'that answers %s at any step is told of, and nothing is half written',
    async (code) => {
      const folder = newFolder();
      const photos = newFolder();
      const first = await keep(await openAt(folder), newEntry(photos, '1'));
      const given = newEntry(photos, '2');
      let isKept = false;
      for (let call = 0; !isKept; call++) {
        expect(call).toBeLessThan(60);
        const fileSystem = failAt(call, code);
        const kept = await openLogbook({ folder, fileSystem, ...order });
        if (kept.outcome === 'refused') throw new Error(kept.code);
        const answer = await kept.logbook.add(given);
        isKept = answer.outcome === 'kept';
        if (answer.outcome === 'refused')
          expect(answer).toMatchObject({ code: 'entry-not-kept', facts: { system_code: code } });
        const { problems } = await verifyLogbook({ folder, ...order });
        expect(problems).toEqual([]);
        expect(filesIn(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
        const ids = (await openAt(folder)).list().map(({ id }) => id);
        expect(ids).toContain(first);
        if (answer.outcome === 'kept') expect(ids).toContain(answer.id);
      }
    },
  );

  it('that refuses to sync folders is told of, and serves all the same', async () => {
    const fileSystem = { ...REAL_FILE_SYSTEM, syncFolder: async () => false };
    const logbook = await openAt(newFolder(), { fileSystem });
    const id = await keep(logbook, newEntry(newFolder(), '1'));
    expect(logbook.canSync).toBe(false);
    expect(logbook.notices.map(({ code }) => code)).toEqual(['sync-refused']);
    expect(await logbook.find(id)).toMatchObject({ outcome: 'found' });
  });
});

describe('a folder in which nobody may write', () => {
  it('can be read, and says what it is when something is to be kept', async () => {
    const place = mkdtempSync(join(tmpdir(), 'read-only-'));
    const folder = join(place, 'logbook');
    try {
      const id = await keep(await openAt(folder), newEntry(newFolder(), '1'));
      const folders = [folder, ...filesIn(folder).map((name) => join(folder, name))];
      for (const path of folders) chmodSync(path, /\.\w+$/.test(path) ? 0o444 : 0o555);
      chmodSync(place, 0o755);
      // The administrator may write everywhere, so somebody else tries.
      const isAdministrator = process.getuid?.() === 0;
      const script = `
        import { openLogbook } from './src/logbook/open-logbook.ts';
        const opening = await openLogbook({ folder: ${JSON.stringify(folder)}, create: false, softwareVersion: '1' });
        const ids = opening.logbook?.list().map(({ id }) => id);
        const added = await opening.logbook?.append({ entry: ids[0], note: 'x' });
        console.log(JSON.stringify([opening.code ?? opening.outcome, ids, added?.code, added?.facts?.system_code]));`;
      const { stdout, stderr } = spawnSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
        encoding: 'utf8',
        ...(isAdministrator && { uid: 65534, gid: 65534, env: { ...process.env, HOME: tmpdir(), TMPDIR: tmpdir() } }),
      });
      expect(JSON.parse(stdout || JSON.stringify(stderr))).toEqual(['opened', [id], 'logbook-unusable', 'EACCES']);
      for (const path of folders) chmodSync(path, 0o755);
    } finally {
      rmSync(place, { recursive: true, force: true });
    }
  });
});
