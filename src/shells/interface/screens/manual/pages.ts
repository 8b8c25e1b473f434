/** The pages of the manual as they lie in `src/manual`, taken into the build with their pictures, and their sections. */
import GithubSlugger from 'github-slugger';
import { INDEX, resolveLink } from './manual-place.ts';

const TEXTS = import.meta.glob<string>('../../../../manual/**/*.md', { query: '?raw', import: 'default', eager: true });
const PICTURES = import.meta.glob<string>('../../../../manual/pictures/*', {
  query: '?url',
  import: 'default',
  eager: true,
});

export interface Section {
  /** The line of its heading, from 1. */
  readonly line: number;
  /** Words of the heading, without marks. */
  readonly heading: string;
  readonly anchor: string;
  readonly text: string;
}

export interface ManualPage {
  readonly page: string;
  readonly title: string;
  readonly text: string;
  readonly sections: readonly Section[];
}

const nameOf = (path: string) => path.replace(/^.*\/manual\//, '').replace(/\.md$/, '');

/** In the order of the index, which comes first. */
export const PAGES: readonly ManualPage[] = orderByIndex(
  Object.entries(TEXTS).map(([path, text]) => {
    const sections = splitSections(text);
    return { page: nameOf(path), title: sections[0]!.heading, text, sections };
  }),
);

function orderByIndex(pages: readonly ManualPage[]): readonly ManualPage[] {
  const { text } = pages.find(({ page }) => page === INDEX)!;
  const listed = [...text.matchAll(/\]\(([^)]+)\)/g)].map((match) => resolveLink(INDEX, match[1]!)?.page);
  const rank = ({ page }: ManualPage) => (page === INDEX ? -1 : listed.indexOf(page));
  return pages.toSorted((a, b) => rank(a) - rank(b));
}

export const findPage = (name: string): ManualPage | undefined => PAGES.find(({ page }) => page === name);

/** The address of a picture that a page names. */
export const findPicture = (link: string): string | undefined =>
  Object.entries(PICTURES).find(([path]) => path.endsWith(`/manual/${link.replace(/^(\.\.\/)+/, '')}`))?.[1];

/** A page by its headings, each with what stands below it; lines of code are no headings. */
export function splitSections(text: string): Section[] {
  const slugger = new GithubSlugger();
  const sections: { line: number; heading: string; anchor: string; text: string }[] = [];
  let isCode = false;
  for (const [i, line] of text.split('\n').entries()) {
    if (line.startsWith('```')) isCode = !isCode;
    const [, marked] = (isCode ? null : /^#{1,6} (.*)$/.exec(line)) ?? [];
    if (marked === undefined) {
      const last = sections.at(-1);
      if (last) last.text += `${stripMarks(line)}\n`;
      continue;
    }
    const heading = stripMarks(marked);
    sections.push({ line: i + 1, heading, anchor: slugger.slug(heading), text: '' });
  }
  return sections;
}

/** Markdown -> its words: what is searched and quoted. */
function stripMarks(line: string): string {
  return line
    .replace(/^```.*$|^[|\s:-]+$/, '')
    .replace(/!?\[([^\]]*)\]\([^)]*\)/g, '$1')
    .replace(/[`*|>]/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();
}
