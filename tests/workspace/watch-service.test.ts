import { mkdir, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { FolderList } from '../../src/contract/watch.ts';
import { jpeg } from './jpeg.ts';
import { codeOf, makeFolder, openBench, requireValue } from './open-in-folder.ts';
import { refusedPhoto, usablePhoto } from './stand-in-engine.ts';

async function openWatch() {
  const bench = await openBench();
  bench.engine.photos.bare = usablePhoto('both');
  const parent = makeFolder();
  const folder = join(parent, 'tethered');
  await mkdir(folder);
  await bench.call('watch.start', { folder });
  let number = 0;
  /** Writes a photograph, and waits until all is said of it. */
  const write = async (name: string, content = name) => {
    number += 1;
    await writeFile(join(folder, name), jpeg(content));
    const { watch, shots } = await bench.until(
      ({ watch: at }) => at?.last?.number === number && at.last.outcome !== 'looking',
    );
    return { ...watch!.last!, places: shots.map(({ slot, name: of }) => [slot, of]) };
  };
  return { bench, folder, parent, write };
}

describe('a watched folder', () => {
  it('fills the places in their order, and measures when none is empty any more', async () => {
    const { bench, write } = await openWatch();
    expect(await write('1.jpg')).toMatchObject({ outcome: 'taken', slot: 'bare', places: [['bare', '1.jpg']] });
    expect(await write('2.jpg')).toMatchObject({ outcome: 'taken', slot: 'left-lens' });
    expect(bench.now().rounds).toEqual([]);
    expect(await write('3.jpg')).toMatchObject({ outcome: 'taken', slot: 'right-lens' });
    const { rounds } = await bench.until(({ rounds: { length } }) => length === 1);
    expect(Object.keys(rounds[0]!.shots)).toHaveLength(3);
    // In every round after it one photograph without glasses is enough.
    expect(await write('4.jpg')).toMatchObject({ outcome: 'taken', slot: 'bare' });
    await bench.until(({ rounds: { length } }) => length === 2);
  });

  it('leaves other pictures and what was taken in before alone, and asks again for what cannot be used', async () => {
    const { bench, write } = await openWatch();
    await write('1.jpg');
    expect(await write('again.jpg', '1.jpg')).toMatchObject({ outcome: 'duplicate', places: [['bare', '1.jpg']] });
    bench.engine.photos['left-lens'] = refusedPhoto('no-target');
    expect(await write('holiday.jpg')).toMatchObject({ outcome: 'not-ours', places: [['bare', '1.jpg']] });
    bench.engine.photos['left-lens'] = refusedPhoto('blurred');
    expect(await write('2.jpg')).toMatchObject({ outcome: 'refused', slot: 'left-lens' });
    delete bench.engine.photos['left-lens'];
    expect(await write('3.jpg')).toMatchObject({
      outcome: 'taken',
      places: [
        ['bare', '1.jpg'],
        ['left-lens', '3.jpg'],
      ],
    });
  });

  it('that vanishes is said to be gone, and is watched on when it is back', async () => {
    const { bench, folder, parent, write } = await openWatch();
    await rename(folder, join(parent, 'away'));
    await bench.until(({ watch }) => watch?.is_there === false);
    await rename(join(parent, 'away'), folder);
    await bench.until(({ watch }) => watch?.is_there === true);
    expect(await write('1.jpg')).toMatchObject({ outcome: 'taken', slot: 'bare' });
    expect(await bench.call('watch.stop')).not.toHaveProperty('watch');
  });

  it('has to be there, and is chosen among the names of folders only', async () => {
    const { bench, folder, parent } = await openWatch();
    expect(codeOf(await bench.work.call('watch.start', { folder: join(parent, 'nowhere') }))).toBe('no-such-folder');
    expect(codeOf(await bench.work.call('watch.start', { folder: 'tethered' }))).toBe('no-such-folder');
    expect(bench.now().watch!.folder).toBe(folder);
    await writeFile(join(parent, 'file.txt'), 'nothing');
    await mkdir(join(parent, '.hidden'));
    const list = requireValue(await bench.work.call('folders.list', { folder: parent })) as FolderList;
    expect(list).toMatchObject({ folder: parent, folders: [folder] });
    expect(list.parent).not.toBeNull();
    expect(codeOf(await bench.work.call('folders.list', { folder: join(parent, 'file.txt') }))).toBe('no-such-folder');
  });
});
