/** Files of a readable length, and nothing in any text that only means something elsewhere. */
import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { listProject, readText } from './source-files.ts';

const MOST_LINES = 400;

const PICTURES = /\.(png|jpe?g|tiff?|icc|pdf|ico|icns)$/;

const texts = listProject().filter((path) => !PICTURES.test(path));

/** Hosts that a text may name: name spaces of formats, and pages where sources can be read. */
const HOSTS = new Set([
  'www.w3.org',
  'www.apple.com',
  'www.color.org',
  'www.itl.nist.gov',
  'doi.org',
  'arxiv.org',
  'nodejs.org',
]);

/** This machine itself, and names that are set aside for examples (RFC 2606): nobody is reached by them. */
const NOBODY = /^(127\.0\.0\.1|localhost|([\w-]+\.)*example)$/;

/** Names that say nothing about what is inside. */
const EMPTY_NAMES = /(^|[-./])(utils?|helpers?|managers?|misc|common|stuff)([-.]|$)/;

/** Folders of one particular machine. A temporary folder is everybody's. */
const MACHINE_PATH = /(?<![\w.~])\/(?:home|root|work|Users|mnt|opt|private|var\/folders)\/[\w.-]+|\b[A-Z]:\\\w+/g;

/** Words that mean nothing in a program about pictures on a screen: they tell of how a text was made. */
const ELSEWHERE = ['session', 'todo', 'fixme'];

/**
 * The desktop's runtime keeps a window's storage and permissions under a name that is one of these words. Read as a member
 * in the code that speaks to it, the word may stand; by itself it may not even there.
 */
const RUNTIME_MEMBER = /(?<=[\w)])\.session\b/g;
const SPEAKS_TO_RUNTIME = /^(src|tests)\/shells\/desktop\/[\w.-]+\.ts$/;

const withoutRuntimeMembers = (path: string, text: string) =>
  SPEAKS_TO_RUNTIME.test(path) ? text.replaceAll(RUNTIME_MEMBER, '') : text;

const hostsIn = (text: string) => [...text.matchAll(/\bhttps?:\/\/([\w.-]+)/g)].map((match) => match[1]!);

describe('code', () => {
  const code = texts.filter((path) => /\.[cm]?[jt]sx?$/.test(path));

  it(`has no file of more than ${MOST_LINES} lines`, () => {
    expect(code.length).toBeGreaterThan(200);
    expect(code.filter((path) => readText(path).trimEnd().split('\n').length > MOST_LINES)).toEqual([]);
  });

  it('has names that say what is inside', () => {
    expect(code.filter((path) => EMPTY_NAMES.test(posix.basename(path)))).toEqual([]);
    expect(['utils.ts', 'mark-helpers.ts', 'shot-manager.ts'].filter((name) => !EMPTY_NAMES.test(name))).toEqual([]);
  });
});

describe('no text', () => {
  const read = texts.filter((path) => path !== 'package-lock.json').map((path) => [path, readText(path)] as const);

  it('names a folder of one particular machine', () => {
    expect(read.flatMap(([path, text]) => (text.match(MACHINE_PATH) ?? []).map((found) => `${path} ${found}`))).toEqual(
      [],
    );
    expect(`see ${['', 'home', 'ann', 'notes'].join('/')}`).toMatch(MACHINE_PATH);
  });

  it('names a host but those where a source or a format is laid down', () => {
    const named = read.flatMap(([path, text]) => hostsIn(text).map((host) => ({ path, host })));
    expect(named.filter(({ host }) => !HOSTS.has(host) && !NOBODY.test(host))).toEqual([]);
    expect(hostsIn(`fetched from https:${'//'}packages.example/x`)).toEqual(['packages.example']);
  });

  it('speaks of how it came about', () => {
    const words = new RegExp(`\\b(${ELSEWHERE.join('|')})s?\\b`, 'i');
    const own = 'tests/architecture/text.test.ts';
    const tellsOf = (path: string, text: string) => words.test(withoutRuntimeMembers(path, text));
    expect(read.filter(([path, text]) => path !== own && tellsOf(path, text)).map(([path]) => path)).toEqual([]);

    const [word] = ELSEWHERE;
    const desktop = 'src/shells/desktop/planted.ts';
    expect(tellsOf(desktop, `contents.${word}.setPermissionCheckHandler(null);`)).toBe(false);
    expect(tellsOf('src/shells/command/planted.ts', `contents.${word}.clear();`)).toBe(true);
    for (const planted of [
      `// made in this ${word}`,
      `// see ${word}.clear`,
      `const ${word} = 1;`,
      `say('a ${word}.')`,
    ]) {
      expect(tellsOf(desktop, planted), planted).toBe(true);
    }
  });

  it('holds what a merge left behind', () => {
    expect(read.filter(([, text]) => /^(<{7}|>{7}) /m.test(text)).map(([path]) => path)).toEqual([]);
  });
});
