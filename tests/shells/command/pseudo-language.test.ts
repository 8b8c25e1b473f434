/** What commands print, ask for and complain about stands in the catalogue: help, results, progress and wrong usage. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Command } from 'commander';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { listOptions, readOptions } from '../../../src/shells/browser-host/read-options.ts';
import { formatProgress } from '../../../src/shells/command/batch/run-batch.ts';
import { describeProgram, runCommandLine } from '../../../src/shells/command/command-line.ts';
import { refuseRequest } from '../../../src/shells/gateway/reply.ts';
import { findPackage } from '../../../src/storage/find-package.ts';
import { FAILURE_CODES } from '../../../src/wording/failures.ts';
import { speakPseudoLanguage, wordsOutside } from '../../wording/pseudo-language.ts';
import { listCommands } from './list-commands.ts';

speakPseudoLanguage();

/**
 * What is the same in every language: names of options and what stands for their values, names of commands after the
 * program's, of files and adjustments, of the house, the schema, units, and what a user wrote.
 */
const DATA =
  /\btwinplumb(?: [a-z]+){0,2}|\bbrowser-host\b|--?[a-z][a-z-]*|<[^>]*>|\[[^\]]*\]|"[^"]*"|[\w/.-]+\.(?:jpg|png|json|html|pdf|svg|zip)|\/tmp\/\S*|Upper screw|The Meridian|The Long Reel|by hand|\b(?:Ann|UTC|SHA|arcmin|deg|upper-screw)\b|\b[0-9a-f]{8,}\b/g;
const words = (text: string) => wordsOutside(text, DATA);

const software = findPackage();
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'pseudo-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function run(...given: string[]) {
  const said: string[] = [];
  const say = (text: string) => void said.push(text);
  const status = await runCommandLine(given, { print: say, remark: say, trace: false, isWatched: true }, software);
  return { status, words: words(said.join('\n')), said: said.join('\n') };
}

it('sees what never passed the catalogue', () => {
  expect(words('⟦error: ⟦unknown⟧ thing⟧ planted --option')).toEqual(['planted']);
});

describe('help', () => {
  const describeAll = () => {
    const world = { print: () => {}, remark: () => {}, trace: false };
    return describeProgram(world, software, () => {});
  };
  /** Names of commands stand at the beginning of their lines. */
  const bare = (command: Command) => command.helpInformation().replace(/^ {2}[a-z]+/gm, ' ');

  it('of every command says nothing else', () => {
    const program = describeAll();
    const all = [program, ...program.commands, ...listCommands(program).map(({ command }) => command)];
    expect(all.length).toBeGreaterThan(18);
    for (const command of all) expect(words(bare(command)), command.name()).toEqual([]);
  });

  it('of the whole, with its examples, and of the browser host says nothing else', async () => {
    const { status, said } = await run('--help');
    expect(status).toBe(0);
    expect(words(said.replace(/^ {2}(?:twinplumb .*|[a-z]+)/gm, ''))).toEqual([]);
    expect(words(listOptions())).toEqual([]);
  });
});

describe('wrong usage', () => {
  it.each([
    ['align'],
    ['measur'],
    ['measure', '--fast'],
    ['measure', '--left'],
    ['measure'],
    ['measure', '--left', 'a.jpg'],
    ['measure', '--left', 'a.jpg', '--right', 'b.jpg', '--order', 'left'],
    ['measure', '--left', 'a.jpg', '--right', 'b.jpg', '--aspect', '9'],
    ['measure', '--left', 'a.jpg', '--right', 'b.jpg', '--house', 'missing.json'],
    ['measure', '--left', 'a.jpg', '--right', 'b.jpg', '--paper', 'foolscap'],
    ['target'],
    ['target', '--out', 'x', 'c'],
    ['target', '--out', 'x', '--height', '12px'],
    ['target', '--out', 'x', '--height', '9'],
    ['target', '--out', 'x', '--two-up', '0.2'],
    ['target', '--out', 'package.json/x', '--height', '300'],
    ['rehearse', '--out', 'x', '--seed', '1', '--quality', '101'],
    ['rehearse', '--out', 'x', '--seed', '1', '--leak-left', '0.00001'],
    ['rehearse', '--out', 'x', '--seed', '1', '--order', 'left'],
    ['batch', 'missing.json'],
    ['batch', 'src/manual/pictures'],
    ['batch', 'src', '--shard', '3'],
    ['evenness'],
    ['evenness', '--left', 'a.jpg', '--meter', '0'],
    ['budget'],
    ['budget', '--start', '55', '--without', 'moonlight'],
    ['budget', '--start', '55', '--set', 'x'],
    ['null', 'a.jpg', '--lens', 'left', '--turned', 'glasses', '--reference', 'b.jpg', '--turns', 'x'],
    ['logbook'],
    ['logbook', 'list', '--folder', 'src'],
    ['logbook', 'show'],
    ['logbook', 'add', '--left', 'a.jpg', '--right', 'b.jpg', '--turned', 'x'],
  ])('%j', async (...given) => {
    const result = await run(...given);
    expect(result.status).toBe(64);
    expect(words(result.said.replace(/^ {2}[a-z]+/gm, ' '))).toEqual([]);
    expect(result.said).toContain('⟦');
  });

  it('of the browser host', () => {
    for (const given of [['--port', 'x'], ['--folder', ''], ['--fast'], ['stray']]) {
      expect(words(String(readOptions(given))), given.join(' ')).toEqual([]);
    }
  });
});

it('results, kept entries and what is read from them', async () => {
  const at = (name: string) => join('test-images/meridian-02-vertical', name);
  const pair = ['--left', at('left-lens.jpg'), '--right', at('right-lens.jpg')];
  const house = ['--house', 'test-images/meridian.house.json'];
  const book = ['--folder', join(folder, 'logbook')];
  const add = ['logbook', 'add', ...pair, ...house, ...book, '--print', 'The Long Reel', '--operator', 'Ann'];
  const first = await run(...add);
  const id = /⟦Kept as (\w+)⟧/.exec(first.said)![1]!;
  const turned = ['--follows', id, '--turned', 'upper-screw:clockwise:0.125'];
  const second = await run(...add, ...turned, '--note', 'by hand');
  const other = /⟦Kept as (\w+)⟧/.exec(second.said)![1]!;
  const said = [
    first,
    second,
    await run('logbook', 'note', id, 'by hand', '--by', 'Ann', ...book),
    await run('logbook', 'list', ...book),
    await run('logbook', 'show', other, ...book),
    await run('logbook', 'show', id, ...book),
    await run('logbook', 'compare', id, other, ...book),
    await run('logbook', 'trends', ...book),
    await run('logbook', 'verify', '--quick', ...book),
    await run('logbook', 'export', id, '--out', join(folder, 'entry.zip'), ...book),
    await run('logbook', 'import', join(folder, 'entry.zip'), ...book),
    await run('logbook', 'import', at('left-lens.jpg'), ...book),
    await run('target', '--out', folder, '--height', '300'),
  ];
  expect(said.map(({ status }) => status)).toEqual([...Array(11).fill(0), 65, 0]);
  expect(said.flatMap((each) => each.words)).toEqual([]);
});

/** The publications that limits come from are called by their titles. */
it.each([
  ['evenness', '--left', 'test-images/meridian-02-vertical/left-lens.jpg'],
  ['budget', '--start', '55', '--set', 'glasses=0.7'],
])('the light: %s', async (...given) => {
  const { findings } = JSON.parse((await run(...given, '--json')).said.trim()) as { findings: { source: string }[] };
  const { status, said } = await run(...given);
  expect(status).toBe(0);
  const text = findings.reduce((rest, { source }) => rest.replaceAll(source, ''), said.replace(/\s+/g, ' '));
  expect(words(text)).toEqual([]);
});

it('progress of a batch', async () => {
  expect(words(formatProgress({ done: 1, of: 9, refused: 1, failed: 2, elapsed_s: 900 }))).toEqual([]);
  const list = join(folder, 'list.json');
  await writeFile(list, JSON.stringify([{ set: 'a', left: 'a.jpg' }]));
  expect((await run('batch', list)).words).toEqual([]);
});

it('refusals of the gateway', async () => {
  for (const code of FAILURE_CODES) {
    const { failure } = (await refuseRequest(400, code).json()) as { failure: { message: string; remedy: string } };
    expect(words(`${failure.message} ${failure.remedy}`), code).toEqual([]);
  }
});
