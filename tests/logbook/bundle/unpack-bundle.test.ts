import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { openPromise } from 'yauzl';
import { ZipFile } from 'yazl';
import { packBundle } from '../../../src/logbook/bundle/pack-bundle.ts';
import { unpackBundle } from '../../../src/logbook/bundle/unpack-bundle.ts';
import { hashBytes, sealRecord } from '../../../src/logbook/hash.ts';
import type { Logbook } from '../../../src/logbook/logbook.ts';
import { verifyLogbook } from '../../../src/logbook/verify-logbook.ts';
import { jpeg } from '../../workspace/jpeg.ts';
import { clock, keep, newEntry, newFolder, openAt } from '../make-logbook.ts';

let place: string;
let logbook: Logbook;
let [first, second] = ['', ''];
let bundle: string;
/** What a sound bundle holds, to be put together in other ways. */
let members: Map<string, Buffer>;
beforeEach(async () => {
  place = newFolder();
  logbook = await openAt(newFolder(), { now: clock() });
  first = await keep(logbook, newEntry(place, '1'));
  second = await keep(logbook, { ...newEntry(place, '2'), follows: first });
  writeFileSync(join(place, 'x.jpg'), jpeg('x'));
  await logbook.append({ entry: second, note: 'added', photographs: [{ path: join(place, 'x.jpg'), name: 'x.jpg' }] });
  const packed = await packBundle(logbook, {
    id: second,
    report: '<p>report</p>',
    softwareVersion: '1',
    now: new Date(0),
  });
  if (packed.outcome === 'refused') throw new Error(packed.code);
  bundle = join(place, 'bundle.zip');
  writeFileSync(bundle, packed.bytes);
  members = await readAll(bundle);
});

async function readAll(path: string): Promise<Map<string, Buffer>> {
  const zip = await openPromise(path, { lazyEntries: true });
  const all = new Map<string, Buffer>();
  for await (const entry of zip.eachEntry()) {
    const pieces: Buffer[] = [];
    for await (const piece of await zip.openReadStreamPromise(entry)) pieces.push(piece as Buffer);
    all.set(entry.fileName, Buffer.concat(pieces));
  }
  return all;
}

interface Packing {
  readonly mode?: number;
  readonly twice?: string;
}

/** yazl refuses most of these names, so others of the same length stand in for them until the bytes are there. */
async function pack(files: ReadonlyMap<string, Buffer>, { mode, twice }: Packing = {}): Promise<string> {
  const zip = new ZipFile();
  const renamed = new Map<string, string>();
  let number = 0;
  const add = (name: string, bytes: Buffer) => {
    number += 1;
    const stand = `<${number}>`.padEnd(Buffer.byteLength(name), '_');
    renamed.set(stand, name);
    zip.addBuffer(bytes, stand, {
      compress: true,
      mode: name.includes('link') && mode !== undefined ? mode : 0o100644,
    });
  };
  for (const [name, bytes] of files) add(name, bytes);
  if (twice !== undefined) add(twice, files.get(twice)!);
  zip.end();
  const pieces: Buffer[] = [];
  for await (const piece of zip.outputStream) pieces.push(piece as Buffer);
  const whole = Buffer.concat(pieces);
  for (const [stand, name] of renamed) {
    for (let at = whole.indexOf(stand); at >= 0; at = whole.indexOf(stand, at + 1)) whole.write(name, at);
  }
  const path = join(place, `made-${Math.random()}.zip`);
  writeFileSync(path, whole);
  return path;
}

/** The same with another content of some files, and their hashes in the list put right. */
function changed(change: (files: Map<string, Buffer>) => void, isListed = true): Map<string, Buffer> {
  const files = new Map(members);
  change(files);
  if (!isListed) return files;
  const manifest = JSON.parse(files.get('manifest.json')!.toString());
  manifest.files = [...files]
    .filter(([name]) => name !== 'manifest.json')
    .map(([name, bytes]) => ({ name, sha256: hashBytes(bytes), bytes: bytes.length }));
  files.set('manifest.json', Buffer.from(JSON.stringify(manifest)));
  return files;
}

const nameOf = (id: string) => `entries/${id}.json`;

describe('a sound bundle', () => {
  it('holds the entry, what it points at, their photographs, the report and the list', () => {
    const { photographs } = logbook.list()[0]!;
    expect([...members.keys()][0]).toBe('manifest.json');
    expect(members.size).toBe(1 + 2 + 1 + 5 + 1);
    for (const name of [nameOf(first), nameOf(second), 'report.html', `photographs/${photographs[0]!.slice(0)}.jpg`]) {
      expect([...members.keys()]).toContain(name);
    }
  });

  it('can be opened by other programs', () => {
    const python = 'import zipfile,sys; z=zipfile.ZipFile(sys.argv[1]); print(z.testzip(), len(z.namelist()))';
    let said: string;
    try {
      said = execFileSync('python3', ['-c', python, bundle], { encoding: 'utf8' });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
      console.warn('skipped: there is no Python to open the bundle with');
      return;
    }
    expect(said.trim()).toBe(`None ${members.size}`);
  });

  it('makes another logbook hold the same, to the last byte, and verified', async () => {
    const folder = newFolder();
    const other = await openAt(folder);
    const unpacked = await unpackBundle(other, bundle);
    expect(unpacked).toMatchObject({ outcome: 'unpacked', entry: second, known: [], photographs: 5 });
    expect(unpacked.outcome === 'unpacked' && unpacked.kept).toHaveLength(3);
    expect(unpacked.outcome === 'unpacked' && unpacked.kept.slice(0, 2)).toEqual([first, second]);
    expect((await verifyLogbook({ folder, softwareVersion: '1' })).problems).toEqual([]);
    const [here, there] = [await logbook.find(second), await other.find(second)];
    expect(there).toEqual(here);
  });

  it('that comes a second time is told of, and nothing changes', async () => {
    const folder = newFolder();
    const other = await openAt(folder);
    await unpackBundle(other, bundle);
    const look = () => readdirSync(folder, { recursive: true, encoding: 'utf8' }).toSorted();
    const before = look();
    expect(await unpackBundle(await openAt(folder), bundle)).toMatchObject({
      kept: [],
      known: { length: 3 },
      photographs: 0,
    });
    expect(look()).toEqual(before);
  });

  it('cannot be made where a photograph is gone or altered', async () => {
    writeFileSync((await logbook.findPhotograph(logbook.list()[0]!.photographs[0]!))!, jpeg('other'));
    const packed = await packBundle(logbook, { id: second, report: '', softwareVersion: '1', now: new Date(0) });
    expect(packed).toMatchObject({ outcome: 'refused', code: 'photograph-gone' });
  });
});

describe('a bundle that is not sound is refused, the fault named and nothing kept', () => {
  const expectFault = async (path: string, code: string, file?: string) => {
    const folder = newFolder();
    const other = await openAt(folder);
    const before = readdirSync(folder, { recursive: true }).toSorted();
    const unpacked = await unpackBundle(other, path);
    expect(unpacked).toMatchObject({ outcome: 'unsound' });
    const problems = unpacked.outcome === 'unsound' ? unpacked.problems : [];
    expect(problems.map((problem) => problem.code)).toContain(code);
    if (file !== undefined) expect(problems.find((problem) => problem.code === code)!.file).toBe(file);
    expect(readdirSync(folder, { recursive: true }).toSorted()).toEqual(before);
  };
  const planted = Buffer.from('planted');

  it.each([
    ['path-outside', '../../outside.txt'],
    ['path-outside', 'photographs/../../x'],
    ['path-outside', 'photographs\\..\\..\\x'],
    ['path-absolute', '/etc/planted'],
    ['path-absolute', 'C:\\planted.txt'],
    ['surplus-file', 'planted.exe'],
    ['surplus-file', `photographs/${'ab'.repeat(32)}.exe`],
    ['surplus-file', 'entries/ABC.json'],
    ['surplus-file', 'photographs/naïve \u202ename.jpg'],
  ])('%s: %s', async (code, name) => {
    const shown = name.replace('\u202e', '\ufffd');
    await expectFault(await pack(changed((files) => files.set(name, planted))), code, shown);
    await expectFault(await pack(changed((files) => files.set(name, planted), false)), code, shown);
  });

  it('symbolic-link', async () => {
    const path = await pack(
      changed((files) => files.set('link', Buffer.from('/etc'))),
      { mode: 0o120777 },
    );
    await expectFault(path, 'symbolic-link', 'link');
  });

  it('duplicate-name', async () => {
    await expectFault(await pack(members, { twice: nameOf(first) }), 'duplicate-name', nameOf(first));
  });

  it('surplus-file: a photograph that no record names', async () => {
    const name = `photographs/${hashBytes(planted)}.jpg`;
    await expectFault(await pack(changed((files) => files.set(name, planted))), 'surplus-file', name);
    await expectFault(await pack(changed((files) => files.set(name, planted), false)), 'surplus-file', name);
  });

  it('zip-bomb: a file that is packed beyond what it can hold', async () => {
    const bytes = Buffer.alloc(20 * 2 ** 20);
    await expectFault(await pack(changed((files) => files.set('report.html', bytes))), 'zip-bomb', 'report.html');
  });

  it('zip-bomb: a file that says that it is larger than any', async () => {
    const whole = Buffer.from(readFileSync(bundle));
    const at = whole.lastIndexOf('report.html') - 46;
    whole.writeUInt32LE(0xf0000000, at + 24);
    const path = join(place, 'large.zip');
    writeFileSync(path, whole);
    await expectFault(path, 'zip-bomb', 'report.html');
  });

  it('zip-bomb: two files that share their bytes', async () => {
    const whole = Buffer.from(readFileSync(bundle));
    const entry = (name: string) => whole.lastIndexOf(name) - 46;
    const [a, b] = [...members.keys()].filter((name) => name.startsWith('photographs/'));
    whole.copy(whole, entry(b!) + 42, entry(a!) + 42, entry(a!) + 46);
    const path = join(place, 'shared.zip');
    writeFileSync(path, whole);
    await expectFault(path, 'zip-bomb');
  });

  it('member-damaged: a file that unpacks to another size than stated', async () => {
    const whole = Buffer.from(readFileSync(bundle));
    const at = whole.lastIndexOf('report.html') - 46;
    whole.writeUInt32LE(whole.readUInt32LE(at + 24) + 5, at + 24);
    const path = join(place, 'size.zip');
    writeFileSync(path, whole);
    await expectFault(path, 'member-damaged', 'report.html');
  });

  it('file-altered: against the list; record-altered: where the list was put right', async () => {
    const edit = (files: Map<string, Buffer>) =>
      files.set(nameOf(first), Buffer.from(members.get(nameOf(first))!.toString().replace('0.412', '0.112')));
    await expectFault(await pack(changed(edit, false)), 'file-altered', nameOf(first));
    await expectFault(await pack(changed(edit)), 'record-altered', nameOf(first));
  });

  it('file-altered: a photograph, also where the list was put right', async () => {
    const name = [...members.keys()].find((each) => each.startsWith('photographs/'))!;
    const edit = (files: Map<string, Buffer>) => files.set(name, Buffer.from(jpeg('tampered')));
    await expectFault(await pack(changed(edit, false)), 'file-altered', name);
    await expectFault(await pack(changed(edit)), 'file-altered', name);
  });

  it('file-missing, photograph-missing, link-missing', async () => {
    const name = [...members.keys()].find((each) => each.startsWith('photographs/'))!;
    await expectFault(await pack(changed((files) => files.delete(name), false)), 'file-missing', name);
    await expectFault(await pack(changed((files) => files.delete(name))), 'photograph-missing', name);
    await expectFault(await pack(changed((files) => files.delete(nameOf(first)))), 'link-missing', nameOf(first));
  });

  it('manifest-missing, manifest-invalid, manifest-newer, record-newer', async () => {
    await expectFault(await pack(changed((files) => files.delete('manifest.json'), false)), 'manifest-missing');
    await expectFault(await pack(new Map([...members, ['manifest.json', Buffer.from('{')]])), 'manifest-invalid');
    const newer = Buffer.from('{"schema":"twinplumb.bundle/2"}');
    await expectFault(await pack(new Map([...members, ['manifest.json', newer]])), 'manifest-newer');
    const { id, text } = sealRecord({ schema: 'twinplumb.entry/3' });
    await expectFault(
      await pack(changed((files) => files.set(nameOf(id), Buffer.from(text)))),
      'record-newer',
      nameOf(id),
    );
  });

  it('not-a-zip: a text, a cut file, a missing one', async () => {
    const cut = join(place, 'cut.zip');
    writeFileSync(cut, readFileSync(bundle).subarray(0, 5000));
    await expectFault(cut, 'not-a-zip');
    await expectFault(join(place, 'x.jpg'), 'not-a-zip');
    await expectFault(join(place, 'missing.zip'), 'not-a-zip');
  });
});
