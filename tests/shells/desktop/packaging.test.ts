/**
 * The packages of the desktop: what their configuration promises, and one package made of the real build with a stand-in
 * for the runtime, which no test fetches.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, posix } from 'node:path';
import { Worker } from 'node:worker_threads';
import { FuseV1Options, getCurrentFuseWire } from '@electron/fuses';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import configuration from '../../../build/electron-builder.ts';
import type { JobMessage } from '../../../src/engine/worker-link.ts';
import { ROOT } from './start-built-desktop.ts';

const manifest = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
const lock = JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8'));
const { linux, win, mac, electronFuses } = configuration;

describe('the configuration', () => {
  it('makes the usual package of each system and publishes none', () => {
    expect(linux!.target).toEqual(['AppImage', 'deb']);
    expect(win!.target).toEqual(['nsis']);
    expect(mac!.target).toEqual(['dmg']);
    expect(configuration.publish).toBeNull();
    expect(Object.keys(manifest.dependencies)).not.toContain('electron-updater');
    expect(manifest.scripts.package).toMatch(/electron-builder --config build\/electron-builder\.ts --publish never$/);
  });

  it('switches off what the runtime can do and the program does not need', () => {
    const safe = ['EnableCookieEncryption', 'EnableEmbeddedAsarIntegrityValidation', 'OnlyLoadAppFromAsar'];
    const names = Object.values(FuseV1Options).filter((name): name is string => typeof name === 'string');
    expect(names.length).toBeGreaterThanOrEqual(8);
    const wanted = names.map((name) => [`${name[0]!.toLowerCase()}${name.slice(1)}`, safe.includes(name)]);
    expect(electronFuses).toEqual(Object.fromEntries(wanted));
  });

  it('asks for the camera on macOS, in words and by entitlement, and for nothing else but to compile', () => {
    expect(mac!.hardenedRuntime).toBe(true);
    expect((mac!.extendInfo as Record<string, string>).NSCameraUsageDescription).toMatch(
      /camera.*stay on this machine/,
    );
    const entitlements = readFileSync(join(ROOT, mac!.entitlements!), 'utf8');
    const granted = [...entitlements.matchAll(/<key>(.*?)<\/key>\s*<true\/>/g)].map((match) => match[1]);
    expect(granted).toEqual(['com.apple.security.cs.allow-jit', 'com.apple.security.device.camera']);
    expect(mac!.entitlementsInherit).toBe(mac!.entitlements);
  });

  it('has an icon for each system', () => {
    const bytes = (path: string) => readFileSync(join(ROOT, path));
    expect(bytes(win!.icon as string).readUInt16LE(2)).toBe(1);
    const macIcon = bytes(mac!.icon as string);
    expect(macIcon.toString('latin1', 0, 4)).toBe('icns');
    expect(macIcon.readUInt32BE(4)).toBe(macIcon.length);
    for (const size of [16, 32, 48, 64, 128, 256, 512]) {
      const png = bytes(`${linux!.icon}/${size}x${size}.png`);
      expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([size, size]);
    }
  });

  it('leaves every native part of the shipped packages outside the archive', () => {
    const shipped = Object.entries<{ dev?: boolean }>(lock.packages)
      .filter(([path, entry]) => path !== '' && !entry.dev && existsSync(join(ROOT, path)))
      .map(([path]) => path);
    const native = shipped.flatMap((path) =>
      readdirSync(join(ROOT, path), { recursive: true, encoding: 'utf8' })
        .map((file) => posix.join(path, file.replaceAll('\\', '/')))
        .filter((file) => /\.(node|dll|dylib|so(\.[\d.]+)?)$/.test(file)),
    );
    expect(native.length).toBeGreaterThanOrEqual(2);
    expect(configuration.asarUnpack).toEqual(['node_modules/@img/**']);
    expect(native.filter((file) => !file.startsWith('node_modules/@img/'))).toEqual([]);
  });
});

interface Entry {
  readonly size?: number;
  readonly offset?: string;
  readonly unpacked?: boolean;
  readonly files?: Readonly<Record<string, Entry>>;
}

/** The archive's list of contents stands in its beginning as JSON; the files follow one after the other. */
function readArchive(path: string): Map<string, { readonly isUnpacked: boolean; readonly bytes: Buffer }> {
  const archive = readFileSync(path);
  const begin = 8 + archive.readUInt32LE(4);
  const header = JSON.parse(archive.toString('utf8', 16, 16 + archive.readUInt32LE(12))) as Entry;
  const found = new Map<string, { isUnpacked: boolean; bytes: Buffer }>();
  const walk = (entry: Entry, at: string): void => {
    for (const [name, each] of Object.entries(entry.files!)) {
      const address = posix.join(at, name);
      if (each.files) walk(each, address);
      else {
        const from = begin + Number(each.offset ?? 0);
        found.set(address, { isUnpacked: each.unpacked === true, bytes: archive.subarray(from, from + each.size!) });
      }
    }
  };
  walk(header, '');
  return found;
}

/** What the packager copies and changes of a runtime: a program with a row of fuses, and its languages. */
function standInRuntime(folder: string): void {
  mkdirSync(join(folder, 'locales'), { recursive: true });
  mkdirSync(join(folder, 'resources'));
  const MARK = 'dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX';
  const fuses = [1, 8, ...Buffer.from('10110001')];
  writeFileSync(join(folder, 'electron'), Buffer.concat([Buffer.from(`#!/bin/sh\n${MARK}`), Buffer.from(fuses)]));
  chmodSync(join(folder, 'electron'), 0o755);
  for (const name of ['LICENSE', 'LICENSES.chromium.html', 'version', 'locales/en-US.pak', 'locales/de.pak']) {
    writeFileSync(join(folder, name), '');
  }
}

const isTried = process.platform === 'linux';
if (!isTried) process.stderr.write('SKIPPED a package with a stand-in for the runtime: it is made on Linux only\n');

describe.runIf(isTried)('a package with a stand-in for the runtime', () => {
  let folder = '';
  let unpacked = '';
  let files: ReturnType<typeof readArchive>;

  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'package-'));
    standInRuntime(join(folder, 'runtime'));
    const packager = join(ROOT, 'node_modules', 'electron-builder', 'cli.js');
    const words = ['--config', 'build/electron-builder.ts', '--publish', 'never', '--dir', '--linux'];
    const places = [`-c.electronDist=${join(folder, 'runtime')}`, `-c.directories.output=${join(folder, 'packages')}`];
    const done = spawnSync(process.execPath, [packager, ...words, ...places], { cwd: ROOT, encoding: 'utf8' });
    if (done.status !== 0) throw new Error(`${done.stdout}${done.stderr}`);
    unpacked = join(folder, 'packages', 'linux-unpacked');
    files = readArchive(join(unpacked, 'resources', 'app.asar'));
  });

  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('holds the program, its preload, the interface, and neither sources nor maps of them', () => {
    const packed = JSON.parse(files.get('package.json')!.bytes.toString('utf8'));
    expect(packed.main).toBe('out/node/desktop.js');
    for (const path of [
      packed.main,
      'out/node/engine-worker.js',
      'out/preload/desktop.cjs',
      'out/interface/index.html',
    ]) {
      expect(files.get(path)?.bytes.equals(readFileSync(join(ROOT, path))), path).toBe(true);
    }
    const own = [...files.keys()].filter((path) => !path.startsWith('node_modules/'));
    expect(own.filter((path) => !/^(out\/(node|preload|interface)\/|package\.json$|LICENSE$)/.test(path))).toEqual([]);
    expect(own.filter((path) => path.endsWith('.map'))).toEqual([]);
    expect([...files.keys()].filter((path) => /^node_modules\/(react|electron|vite|typescript)\//.test(path))).toEqual(
      [],
    );
  });

  it('keeps native parts, and only what belongs to them, outside the archive', () => {
    const outside = [...files].filter(([, { isUnpacked }]) => isUnpacked).map(([path]) => path);
    expect(outside.filter((path) => !path.startsWith('node_modules/@img/'))).toEqual([]);
    expect(outside.filter((path) => path.endsWith('.node'))).toHaveLength(1);
    for (const path of outside) expect(existsSync(join(unpacked, 'resources', 'app.asar.unpacked', path))).toBe(true);
  });

  it('has the fuses that are promised', async () => {
    const wire = await getCurrentFuseWire(join(unpacked, 'twinplumb-desktop'));
    const states = [0, 1, 2, 3, 4, 5, 6, 7].map((fuse) => String.fromCharCode(wire[fuse as FuseV1Options] as never));
    expect(states.join('')).toBe('01001100');
    expect(readdirSync(join(unpacked, 'locales'))).toEqual(['en-US.pak']);
  });

  /** The same files as in the package, where plain Node can read them, far from any other packages. */
  const layOut = () => {
    const program = join(folder, 'program');
    if (existsSync(program)) return program;
    for (const [path, { isUnpacked, bytes }] of files) {
      mkdirSync(dirname(join(program, path)), { recursive: true });
      if (!isUnpacked) writeFileSync(join(program, path), bytes);
    }
    cpSync(join(unpacked, 'resources', 'app.asar.unpacked'), program, { recursive: true });
    return program;
  };

  it('measures with nothing but what is in it', () => {
    const program = layOut();
    const pair = join(ROOT, 'test-images', 'meridian-02-vertical');
    const words = ['measure', '--left', join(pair, 'left-lens.jpg'), '--right', join(pair, 'right-lens.jpg'), '--json'];
    const measure = (root: string) =>
      execFileSync(process.execPath, [join(root, 'out', 'node', 'twinplumb.js'), ...words], { encoding: 'utf8' });
    const reading = measure(program);
    expect(JSON.parse(reading).outcome).toBe('measured');
    expect(reading).toBe(measure(ROOT));
  });

  it('starts its worker and loads what that measures with', async () => {
    const worker = new Worker(join(layOut(), 'out', 'node', 'engine-worker.js'));
    try {
      expect((await once(worker, 'message'))[0]).toEqual({ type: 'ready' });
      worker.postMessage({ job: 1, kind: 'warm-up', request: undefined } satisfies JobMessage);
      expect((await once(worker, 'message'))[0]).toMatchObject({ type: 'done', job: 1 });
    } finally {
      await worker.terminate();
    }
  });
});
