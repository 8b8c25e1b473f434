import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_ASPECT } from '../../../src/kernel/aspect.ts';
import { runCommandLine } from '../../../src/shells/command/command-line.ts';
import { DEFAULTS } from '../../../src/shells/command/options.ts';
import { findPackage } from '../../../src/storage/find-package.ts';

const software = findPackage();

async function run(...words: string[]) {
  const printed: string[] = [];
  const remarks: string[] = [];
  const status = await runCommandLine(
    words,
    { print: (text) => printed.push(text), remark: (text) => remarks.push(text), trace: false },
    software,
  );
  return { status, printed: printed.join(''), remarks: remarks.join('') };
}

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'command-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('usage', () => {
  it('prints its version alone', async () => {
    expect(await run('--version')).toEqual({ status: 0, printed: `${software.version}\n`, remarks: '' });
  });

  it('prints help with examples, exit statuses and the caution', async () => {
    const { status, printed, remarks } = await run('--help');
    expect(status).toBe(0);
    expect(remarks).toBe('');
    for (const part of ['target', 'measure', 'rehearse', 'demo', 'Examples:', '64 wrong usage', 'audience']) {
      expect(printed).toContain(part);
    }
  });

  it.each([
    ['no command', []],
    ['an unknown command', ['align']],
    ['an unknown option', ['measure', '--left', 'a', '--right', 'b', '--fast']],
    ['a missing photograph', ['measure', '--left', 'a.jpg']],
    ['a stray word', ['target', '--out', 'x', 'c']],
    ['no photograph at all', ['measure', '--json']],
    ['a height that is no number', ['target', '--out', 'x', '--height', '12px']],
    ['a height that is not whole', ['target', '--out', 'x', '--height', '1744.5']],
    ['an aspect that is no number', ['target', '--out', 'x', '--aspect', '1e1']],
    ['an unknown eye', ['target', '--out', 'x', '--upper-eye', 'third']],
    ['a seed that is negative', ['rehearse', '--out', 'x', '--seed', '-1']],
    ['an unknown state', ['rehearse', '--out', 'x', '--seed', '1', '--polarizers', 'lost']],
    ['a wish that cannot be', ['rehearse', '--out', 'x', '--seed', '1', '--quality', '101']],
    ['a house that is missing', ['measure', '--left', 'a', '--right', 'b', '--house', 'missing.json']],
  ])('%s is wrong usage: 64, nothing on stdout, a reason on stderr', async (_name, words) => {
    const { status, printed, remarks } = await run(...words);
    expect(status).toBe(64);
    expect(printed).toBe('');
    expect(remarks).not.toBe('');
    expect(remarks).not.toMatch(/\n\s+at /);
  });

  it('calls a shape that cannot be drawn wrong usage, and writes nothing', async () => {
    const out = join(folder, 'shape');
    const { status, remarks } = await run('target', '--out', out, '--aspect', '4');
    expect(status).toBe(64);
    expect(remarks).toContain('between 1.33 and 2.6');
    expect(await readdir(folder)).toEqual([]);
  });

  it('calls a place that cannot be written to wrong usage', async () => {
    const { status, remarks } = await run('target', '--out', 'package.json/x', '--height', '300');
    expect(status).toBe(64);
    expect(remarks).toMatch(/cannot be written to package.json\/x \(E[A-Z]+\)/);
  });
});

describe('target', () => {
  it('prints the files that it wrote', async () => {
    const out = join(folder, 'target');
    const { status, printed } = await run('target', '--out', out, '--height', '300', '--two-up');
    expect(status).toBe(0);
    const files = printed.trim().split('\n');
    expect(files).toContain(join(out, 'target-left.png'));
    expect(files).toContain(join(out, 'two-up-0.375.svg'));
    expect((await readdir(out)).length).toBe(files.length);
  });
});

describe('defaults', () => {
  it('are those of the rooms, and the help states them', async () => {
    expect(DEFAULTS.aspect).toBe(DEFAULT_ASPECT);
    const { printed } = await run('target', '--help');
    expect(printed).toContain(`(default: ${DEFAULTS.aspect})`);
    expect(printed).toContain(`(default: ${DEFAULTS.height_px})`);
    expect(printed.replace(/\s+/g, ' ')).toContain(`default: ${DEFAULTS.upperEye}`);
  });
});
