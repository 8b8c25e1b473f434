import { execFileSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { claimOutput } from '../../src/storage/claim-output.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'claim-'));
  writeFileSync(at('own.html'), `<head><meta name="ours"></head>${'x'.repeat(50_000)}`);
  writeFileSync(at('own.pdf'), `%PDF${'x'.repeat(50_000)}% ours\n`);
  writeFileSync(at('photo.jpg'), 'photograph');
  writeFileSync(at('empty'), '');
  writeFileSync(at('kept'), '<head><meta name="ours">');
  chmodSync(at('kept'), 0o444);
  mkdirSync(at('folder'));
  symlinkSync('photo.jpg', at('to-photo'));
  symlinkSync('nothing-yet.html', at('to-nothing'));
  symlinkSync('own.html', at('to-own'));
  symlinkSync('round-2', at('round-1'));
  symlinkSync('round-1', at('round-2'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string) => join(folder, name);
const own = /<meta name="ours">|% ours\s*$/;
const claim = (name: string, more = {}) => claimOutput(at(name), { own, ...more });

describe('a place may be written to', () => {
  it.each([
    ['new', 'new.html', 'new.html'],
    ['empty', 'empty', 'empty'],
    ['its own, by its beginning', 'own.html', 'own.html'],
    ['its own, by its end', 'own.pdf', 'own.pdf'],
    ['a link to its own, which stays a link', 'to-own', 'own.html'],
    ['a link to nothing yet, which stays a link', 'to-nothing', 'nothing-yet.html'],
  ])('that is %s', async (_, name, path) => {
    expect(await claim(name)).toEqual({ outcome: 'free', path: at(path) });
  });
});

describe('a place is taken', () => {
  it.each([
    ['a photograph', 'photo.jpg', 'foreign'],
    ['a link to a photograph', 'to-photo', 'foreign'],
    ['its own, made read-only', 'kept', 'read-only'],
  ])('that is %s, unless it is forced', async (_, name, why) => {
    expect(await claim(name)).toEqual({ outcome: 'taken', why });
    expect(await claim(name, { force: true })).toMatchObject({ outcome: 'free' });
  });

  it('that is a folder or a device, forced or not', async () => {
    for (const force of [false, true]) {
      expect(await claim('folder', { force })).toEqual({ outcome: 'taken', why: 'not-a-file' });
      expect(await claimOutput('/dev/null', { own, force })).toEqual({ outcome: 'taken', why: 'not-a-file' });
    }
  });

  it.skipIf(process.platform === 'win32')('that is a pipe, without waiting for its reader', async () => {
    execFileSync('mkfifo', [at('pipe')]);
    expect(await claim('pipe', { force: true })).toEqual({ outcome: 'taken', why: 'not-a-file' });
  });

  it('that is read by the same command, by whatever name, forced or not', async () => {
    for (const force of [false, true]) {
      expect(await claim('own.html', { force, inputs: [at('to-own')] })).toEqual({ outcome: 'taken', why: 'input' });
      expect(await claim('to-own', { force, inputs: [at('own.html')] })).toEqual({ outcome: 'taken', why: 'input' });
    }
    expect(await claim('own.html', { inputs: [at('gone')] })).toMatchObject({ outcome: 'free' });
  });

  it('ends where links go round', async () => {
    await expect(claim('round-1')).resolves.toMatchObject({ outcome: 'free' });
  });
});
