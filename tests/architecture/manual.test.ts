/** What the pages point at exists: files, pictures, headings, scripts, commands and options. */
import { statSync } from 'node:fs';
import { join, posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { describeProgram } from '../../src/shells/command/command-line.ts';
import { listCommands } from '../shells/command/list-commands.ts';
import { listProject, readText, ROOT } from './source-files.ts';

const project = listProject();
const PAGES = project.filter((path) => path.endsWith('.md'));
/** Pages for those who carry on, which name options of benchmarks and of the runtime too. */
const FOR_DEVELOPERS = 'src/manual/developers/';
const manifest = JSON.parse(readText('package.json'));
const program = describeProgram(
  { print: () => {}, remark: () => {}, trace: false },
  { root: '', version: '0' },
  () => {},
);

/** Commands of npm itself that a page may name. */
const NPM_COMMANDS = new Set(['ci', 'start', 'test', 'install', 'pack', 'run']);

/** Options that every command understands. */
const COMMON_OPTIONS = ['--help', '--version'];

/** Code of a page, line by line: fenced, indented, and between backticks. */
function codeOf(page: string): string[] {
  const lines: string[] = [];
  let fenced = false;
  for (const line of page.split('\n')) {
    if (line.startsWith('```')) fenced = !fenced;
    else if (fenced || /^ {4}\S/.test(line)) lines.push(line.trim());
    else lines.push(...[...line.matchAll(/`([^`]+)`/g)].map((match) => match[1]!));
  }
  return lines;
}

/** Headings as their links name them: small letters, spaces to hyphens, other signs left out. */
function anchorsOf(page: string): Set<string> {
  const headings = [...page.matchAll(/^#{1,6} (.*)$/gm)].map((match) => match[1]!);
  const named = [...page.matchAll(/<a (?:id|name)="([^"]+)"/g)].map((match) => match[1]!);
  const slugs = headings.map((heading) =>
    heading
      .toLowerCase()
      .replace(/[^\p{L}\p{N}\s_-]/gu, '')
      .replace(/\s/g, '-'),
  );
  return new Set([...slugs, ...named]);
}

const withoutCode = (page: string) => page.replace(/^```[\s\S]*?^```/gm, '').replace(/`[^`\n]*`/g, '');

function linksOf(page: string): string[] {
  return [...withoutCode(page).matchAll(/!?\[[^\]]*\]\(([^)\s]+)\)|(?:src|href)="([^"]+)"/g)].map(
    (match) => match[1] ?? match[2]!,
  );
}

/** The reason why a link leads nowhere. */
function judgeLink(path: string, link: string): string | undefined {
  if (/^https:\/\//.test(link)) return undefined;
  const [file, anchor] = link.split('#') as [string, string | undefined];
  const target = file === '' ? path : posix.join(posix.dirname(path), file);
  const isFolder = project.some((known) => known.startsWith(`${target}/`));
  if (!project.includes(target) && !isFolder) return `${link}: no such file`;
  if (anchor !== undefined && !anchorsOf(readText(target)).has(anchor)) return `${link}: no such heading`;
  return undefined;
}

/** What is wrong with a line of code that calls the command. */
function judgeCall(line: string): string[] {
  const call = /^(?:node\s+)?(?:\S*\/)?twinplumb(?:\.js)?(?:\s+(.*))?$/.exec(line);
  const words = (call?.[1] ?? '').split(/\s+/).filter(Boolean);
  const name = words[0];
  if (name === undefined || /^[<…[]/.test(name)) return [];
  const group = program.commands.find((known) => known.name() === name);
  const command = group?.commands.find((known) => known.name() === words[1]) ?? group;
  if (!name.startsWith('-') && !command) return [`no command ${name}`];
  if (command && command.commands.length > 0 && words[1] !== undefined && !/^[<…[-]/.test(words[1])) {
    return [`no command ${name} ${words[1]}`];
  }
  const known = new Set([...COMMON_OPTIONS, ...(command?.options.map(({ long }) => long!) ?? [])]);
  const options = words.filter((word) => word.startsWith('--')).map((word) => word.replace(/[\])]+$/, ''));
  return options.filter((option) => !known.has(option)).map((option) => `no option ${option} of ${name}`);
}

function judgeScripts(line: string): string[] {
  return [...line.matchAll(/\bnpm ([a-z-]+)(?: --?[a-z]+)*(?: ([a-z][\w:-]*))?/g)].flatMap(([, word, script]) => {
    if (!NPM_COMMANDS.has(word!)) return [`npm ${word}`];
    return word === 'run' && script !== undefined && !(script in manifest.scripts) ? [`npm run ${script}`] : [];
  });
}

it('finds the pages', () => {
  expect(PAGES).toEqual(
    expect.arrayContaining(['README.md', 'DEVELOPERS.md', 'src/manual/README.md', 'test-images/README.md']),
  );
  expect(PAGES.length).toBeGreaterThanOrEqual(8);
});

describe.each(PAGES)('%s', (path) => {
  const page = readText(path);

  it('links to what is there', () => {
    expect(linksOf(page).flatMap((link) => judgeLink(path, link) ?? [])).toEqual([]);
  });

  it('names scripts, commands and options that are there', () => {
    expect(codeOf(page).flatMap((line) => [...judgeScripts(line), ...judgeCall(line)])).toEqual([]);
  });

  it('names files of the project that are there', () => {
    const named = codeOf(page).flatMap((line) =>
      [...line.matchAll(/(?<![\w./-])(?:src|tests|test-images|build)\/[\w./-]*\w/g)].map((match) => match[0]),
    );
    const isThere = (name: string) =>
      project.includes(name) || project.some((known) => known.startsWith(`${name}/`) || known.startsWith(`${name}.`));
    expect(named.filter((name) => !isThere(name))).toEqual([]);
  });
});

describe('the pages for those who use it', () => {
  it('name only options that some command has', () => {
    const commands = listCommands(program);
    const known = new Set([
      ...COMMON_OPTIONS,
      ...program.options.map(({ long }) => long!),
      ...commands.flatMap(({ command }) => command.options.map(({ long }) => long!)),
    ]);
    const pages = PAGES.filter((path) => path === 'README.md' || path.startsWith('src/manual/')).filter(
      (path) => !path.startsWith(FOR_DEVELOPERS),
    );
    const named = pages.flatMap((path) =>
      codeOf(readText(path))
        .filter((line) => !line.includes('npm '))
        .flatMap((line) => [...line.matchAll(/(?<![\w-])--[a-z][a-z-]*/g)].map((match) => `${path} ${match[0]}`)),
    );
    expect(named.length).toBeGreaterThan(20);
    expect(named.filter((name) => !known.has(name.split(' ')[1]!))).toEqual([]);
  });

  it('have every page of the manual in its index', () => {
    const index = readText('src/manual/README.md');
    const manual = PAGES.filter((path) => path.startsWith('src/manual/') && path !== 'src/manual/README.md');
    expect(manual.filter((path) => !linksOf(index).includes(posix.relative('src/manual', path)))).toEqual([]);
  });

  it('open with the two commands that install, show and prove it', () => {
    const page = readText('README.md');
    expect(page).toContain('npm ci && npm run demo');
    expect(page).toContain('npm ci && npm test');
  });

  it('show pictures of a modest size', () => {
    const pictures = project.filter((path) => path.startsWith('src/manual/pictures/'));
    expect(pictures.length).toBeGreaterThan(3);
    expect(pictures.filter((path) => statSync(join(ROOT, path)).size > 400_000)).toEqual([]);
  });
});

describe('a planted slip is seen', () => {
  it.each([
    ['a file that is not there', 'src/manual/commands.md', 'absent.md', 'absent.md: no such file'],
    [
      'a heading that is not there',
      'src/manual/commands.md',
      'safety.md#nowhere',
      'safety.md#nowhere: no such heading',
    ],
    ['a heading of the page itself', 'src/manual/commands.md', '#nowhere', '#nowhere: no such heading'],
    ['nothing, where all is well', 'src/manual/commands.md', 'safety.md#at-the-projector', undefined],
  ])('%s', (_name, path, link, reason) => {
    expect(judgeLink(path, link)).toBe(reason);
  });

  it('a command, an option and a script', () => {
    expect(judgeCall('twinplumb meassure --left a.jpg')).toEqual(['no command meassure']);
    expect(judgeCall('node out/node/twinplumb.js measure --links a.jpg')).toEqual(['no option --links of measure']);
    expect(judgeCall('twinplumb measure --left a.jpg [--house house.json]')).toEqual([]);
    expect(judgeScripts('npm ci && npm run demonstrate')).toEqual(['npm run demonstrate']);
    expect(judgeScripts('npm instal && npm test')).toEqual(['npm instal']);
  });
});
