import { describe, expect, it } from 'vitest';
import { SCREENS } from '../../../../../src/shells/interface/frame/screens.ts';
import { pageOfScreen, resolveLink } from '../../../../../src/shells/interface/screens/manual/manual-place.ts';
import {
  findPage,
  findPicture,
  PAGES,
  splitSections,
} from '../../../../../src/shells/interface/screens/manual/pages.ts';
import { searchManual } from '../../../../../src/shells/interface/screens/manual/search-manual.ts';
import { listProject } from '../../../../architecture/source-files.ts';

describe('the pages in the program', () => {
  it('are all pages of the manual, its index first', () => {
    const pages = listProject().flatMap((path) => /^src\/manual\/(.*)\.md$/.exec(path)?.[1] ?? []);
    expect(PAGES.map(({ page }) => page).toSorted()).toEqual(pages.toSorted());
    expect(PAGES[0]!.page).toBe('README');
  });

  it('have every picture that they name', () => {
    const named = PAGES.flatMap(({ text }) => [...text.matchAll(/!\[[^\]]*\]\(([^)]+)\)/g)].map((match) => match[1]!));
    expect(named.length).toBeGreaterThan(8);
    expect(named.filter((link) => findPicture(link) === undefined)).toEqual([]);
  });

  it('have every heading that one of them, or a screen, leads to', () => {
    const links = PAGES.flatMap(({ page, text }) =>
      [...text.matchAll(/\]\(([^)]+)\)/g)].flatMap((match) => resolveLink(page, match[1]!) ?? []),
    ).filter(({ page }) => findPage(page) !== undefined);
    const asked = [...links, ...SCREENS.map(pageOfScreen)];
    expect(asked.length).toBeGreaterThan(60);
    const isThere = ({ page, anchor }: (typeof asked)[number]) =>
      anchor === undefined || findPage(page)?.sections.some((section) => section.anchor === anchor);
    expect(asked.filter((place) => !isThere(place))).toEqual([]);
  });

  it('are split at headings, not at lines of code', () => {
    const sections = splitSections(
      '# One `a`\nsome **words**\n```\n# no heading\n```\n## Two\n## Two\n| [x](y.md) |\n',
    );
    expect(sections.map(({ line, anchor }) => [line, anchor])).toEqual([
      [1, 'one-a'],
      [6, 'two'],
      [7, 'two-1'],
    ]);
    expect(sections[0]!.text).toContain('some words');
    expect(sections[2]!.text.trim()).toBe('x');
  });
});

describe('a search', () => {
  it('finds the section whose heading has the word, and quotes where it stands', () => {
    const [first] = searchManual('tripod');
    expect(first).toMatchObject({ page: 'desktop', anchor: 'camera-and-tripod' });
    expect(first!.quote.some(({ isMatch }) => isMatch)).toBe(true);
  });

  it('asks for every word, by their beginnings', () => {
    const hits = searchManual('xenon burst');
    expect(hits.length).toBeGreaterThan(0);
    expect(hits.some(({ page }) => page === 'safety')).toBe(true);
  });

  it('forgives a slip, and finds nothing where there is nothing', () => {
    expect(searchManual('polariser').some(({ page }) => page === 'polarizers')).toBe(true);
    expect(searchManual('zzzzqqqq')).toEqual([]);
    expect(searchManual('  ')).toEqual([]);
  });
});
