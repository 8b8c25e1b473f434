import { existsSync, mkdirSync, readdirSync, readFileSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { archivePhotographs, UNUSED_FOLDER } from '../../src/workspace/archive.ts';
import { addPair, makeFolder, measureRound, openBench } from './open-in-folder.ts';

const AT = new Date(Date.UTC(2026, 2, 14));
const LONG_AGO = new Date(Date.UTC(2026, 0, 1));
const hash = (letter: string) => letter.repeat(64);

function lay(folder: string, name: string, at = LONG_AGO): void {
  mkdirSync(join(folder, 'photographs'), { recursive: true });
  writeFileSync(join(folder, 'photographs', name), name);
  utimesSync(join(folder, 'photographs', name), at, at);
}

describe('photographs that nothing names', () => {
  it('are moved after a month, and what anything names stays where it is', async () => {
    const folder = makeFolder();
    for (const letter of ['a', 'b', 'c', 'd', 'e']) lay(folder, `${hash(letter)}.jpg`);
    lay(folder, `${hash('f')}.png`, new Date(Date.UTC(2026, 2, 1)));
    lay(folder, 'note.txt');
    writeFileSync(join(folder, 'workspace.json'), JSON.stringify({ shots: [{ sha256: hash('a') }] }));
    writeFileSync(join(folder, 'workspace.set-aside-x.json'), `broken ${hash('b')}`);
    mkdirSync(join(folder, 'earlier', 'then', 'readings'), { recursive: true });
    writeFileSync(join(folder, 'earlier', 'then', 'readings', '1.json'), JSON.stringify({ sha256: hash('c') }));
    const away = [`${hash('d')}.jpg`, `${hash('e')}.jpg`];
    expect(await archivePhotographs(folder, AT)).toEqual({ count: 2, bytes: 2 * away[0]!.length });
    expect(readdirSync(join(folder, UNUSED_FOLDER)).toSorted()).toEqual(away);
    expect(readFileSync(join(folder, UNUSED_FOLDER, away[0]!), 'utf8')).toBe(away[0]);
    expect(readdirSync(join(folder, 'photographs'))).toHaveLength(5);
    expect(await archivePhotographs(folder, AT)).toEqual({ count: 0, bytes: 0 });
  });

  it('nothing is looked for in a folder without photographs', async () => {
    const folder = makeFolder();
    expect(await archivePhotographs(folder, AT)).toEqual({ count: 0, bytes: 0 });
    expect(existsSync(join(folder, UNUSED_FOLDER))).toBe(false);
  });

  it('are said when the work is opened; measured ones can still be seen', async () => {
    const bench = await openBench();
    await addPair(bench);
    await measureRound(bench);
    const { shots } = bench.now();
    await bench.call('shot.remove', { slot: 'left-lens' });
    await bench.work.close();
    for (const { sha256 } of shots) utimesSync(join(bench.folder, 'photographs', `${sha256}.jpg`), LONG_AGO, LONG_AGO);
    lay(bench.folder, `${hash('d')}.jpg`);
    const again = await openBench(bench.folder);
    const [notice] = again.now().notices;
    expect(notice).toMatchObject({ code: 'photographs-put-away', message: expect.stringContaining('One photograph') });
    expect(notice!.remedy).toContain(UNUSED_FOLDER);
    for (const { sha256 } of shots) {
      expect(existsSync(join(bench.folder, 'photographs', `${sha256}.jpg`))).toBe(true);
    }
  });
});
