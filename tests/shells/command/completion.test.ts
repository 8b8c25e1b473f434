import { execFileSync } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { describeProgram, runCommandLine } from '../../../src/shells/command/command-line.ts';
import { listCompletions } from '../../../src/shells/command/completion.ts';
import { findPackage } from '../../../src/storage/find-package.ts';

const program = describeProgram({ print: () => {}, remark: () => {}, trace: false }, findPackage(), () => {});
const complete = (...words: string[]) => listCompletions(program, words).map((line) => line.split('\t')[0]);

it.each([
  ['commands', ['me'], ['measure']],
  ['commands below a command', ['logbook', 'ex'], ['export']],
  ['options', ['measure', '--cl'], ['--closing']],
  ['options of the whole, anywhere', ['budget', '--qu'], ['--quiet']],
  ['choices', ['measure', '--fail-on', 'o'], ['outside']],
  ['choices after choices', ['measure', '--fail-on', 'outside', 'e'], ['eyes']],
  ['the arguments of a command', ['completion', ''], ['bash', 'zsh', 'fish']],
  ['files for a value', ['measure', '--left', ''], [':files']],
  ['files for several', ['measure', '--left', 'a.jpg', ''], [':files']],
  ['files for an argument', ['batch', ''], [':files']],
])('completes %s', (_what, words, expected) => {
  expect(complete(...words)).toEqual(expected);
});

it('tells every command but its own, with what it does', () => {
  const lines = listCompletions(program, ['']);
  expect(lines.length).toBeGreaterThan(9);
  expect(lines.every((line) => /^[a-z]+\t./.test(line))).toBe(true);
  expect(lines.some((line) => line.startsWith('complete\t'))).toBe(false);
});

const folder = mkdtempSync(join(tmpdir(), 'completion-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function scriptOf(shell: string): Promise<string> {
  const printed: string[] = [];
  const terminal = { print: (text: string) => void printed.push(text), remark: () => {}, trace: false };
  expect(await runCommandLine(['completion', shell], terminal, findPackage())).toBe(0);
  return printed.join('');
}

it('bash takes the script, and offers what the program says', async () => {
  // A program of that name that answers as the real one does, without its start.
  const answers = listCompletions(program, ['measure', '--c']).join('\n');
  writeFileSync(join(folder, 'twinplumb'), `#!/bin/sh\n[ "$4" = --c ] && cat <<'END'\n${answers}\nEND\n`);
  chmodSync(join(folder, 'twinplumb'), 0o755);
  const ask = `${await scriptOf('bash')}
COMP_WORDS=(twinplumb measure --c); COMP_CWORD=2; _twinplumb; printf '%s\\n' "\${COMPREPLY[@]}"`;
  const env = { ...process.env, PATH: `${folder}:${process.env.PATH}` };
  const offered = execFileSync('bash', ['-c', ask], { encoding: 'utf8', env }).trim().split('\n');
  expect(offered).toEqual(['--closing', '--color']);
});

it('zsh and fish have theirs', async () => {
  expect(await scriptOf('zsh')).toMatch(/^#compdef twinplumb\n/);
  expect(await scriptOf('fish')).toMatch(/complete -c twinplumb /);
});
