/** No sentence stands in the code of what talks to people: it is in the catalogue, or it is for programmers. */
import { parseSync } from 'oxc-parser';
import { expect, it } from 'vitest';
import { readSources } from './source-files.ts';

/** Rooms whose words people read: shells, what they share, and what draws for them. */
const SPEAKING = /^(?:shells|services|workspace|report|drawings|wording|contract)\//;
/** Three words in a row, or two and the end of a sentence. */
const SENTENCE = /[a-z]{2,},? [a-z]{2,},? [a-z]{2,}|[a-z]{2,} [a-z]{2,}[.:]/i;

type Node = { readonly type: string; readonly start: number } & Readonly<Record<string, unknown>>;

/** Text that a file holds in literals, templates and markup; what is thrown at programmers is left out. */
function sentencesOf(path: string, source: string): string[] {
  const found: string[] = [];
  const visit = (node: unknown): void => {
    if (typeof node !== 'object' || node === null) return;
    if (Array.isArray(node)) {
      for (const each of node) visit(each);
      return;
    }
    const { type, ...rest } = node as Node;
    if (type === 'NewExpression' && /Error$/.test((rest.callee as { name?: string }).name ?? '')) return;
    if (/^(?:Import|TSLiteralType|TSTemplateLiteral)/.test(type)) return;
    const text =
      type === 'Literal'
        ? rest.value
        : type === 'JSXText'
          ? rest.value
          : type === 'TemplateElement'
            ? (rest.value as { cooked: string }).cooked
            : undefined;
    if (typeof text === 'string' && SENTENCE.test(text)) found.push(text.trim());
    for (const child of Object.values(rest)) visit(child);
  };
  visit(parseSync(path, source).program);
  return found;
}

/** Names of styles and policies are no sentences; examples are typed as they stand. */
const EXEMPT: readonly RegExp[] = [
  /^note soft/,
  /^Global Options:$/,
  /^function __twinplumb/,
  /^(?:measure|target|null|logbook|rehearse|evenness) /,
  /default-src/,
  /[{};]/,
];

it('sees a sentence in a literal, a template and markup, and none in what is thrown', () => {
  const planted = [
    "say('the lamp is hot');",
    `say(\`\${n} marks were left out\`);`,
    'const a = <p>Turn the screw back.</p>;',
    "throw new RangeError('no block of this size');",
  ];
  expect(sentencesOf('planted.tsx', planted.join('\n'))).toEqual([
    'the lamp is hot',
    'marks were left out',
    'Turn the screw back.',
  ]);
});

it('none stands in the code', () => {
  const files = [...readSources('src')].filter(([path]) => SPEAKING.test(path));
  expect(files.length).toBeGreaterThan(200);
  const found = files.flatMap(([path, source]) =>
    sentencesOf(path, source)
      .filter((text) => !EXEMPT.some((exempt) => exempt.test(text)))
      .map((text) => `${path}: ${text}`),
  );
  expect(found).toEqual([]);
});
