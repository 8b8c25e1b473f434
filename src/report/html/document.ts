/**
 * The frame of every report: one self-contained HTML document in which nothing is loaded from anywhere and nothing runs,
 * and the pages that it makes on paper, each with its head, its foot and its number.
 */
import { type Markup, markup } from './markup.ts';
import { STYLE } from './style.ts';

export const PAPERS = ['a4', 'letter'] as const;
export type Paper = (typeof PAPERS)[number];

export interface DocumentOrder {
  readonly title: string;
  readonly body: Markup;
  readonly paper?: Paper | undefined;
  /** Stands at the head of every page, left and right, and at its foot on the left. */
  readonly running: { readonly left: string; readonly right: string; readonly foot: string };
}

/** Only inline pictures and the document's own style are allowed; scripts and the network are not. */
const POLICY = "default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

const SIZES: Readonly<Record<Paper, string>> = { a4: 'A4', letter: 'letter' };

export function composeDocument({ title, body, paper = 'a4', running }: DocumentOrder): string {
  // The style is our own constant text and escaped strings; inside <style> nothing is unescaped by the browser.
  const head = markup`<meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${POLICY}"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${title} – Twinplumb</title>`;
  return `<!doctype html>\n<html lang="en"><head>${head.source}<style>${STYLE}${stylePages(paper, running)}</style></head><body>${body.source}</body></html>\n`;
}

/** Boxes in the margins of pages: CSS Paged Media Module, level 3. */
function stylePages(paper: Paper, { left, right, foot }: DocumentOrder['running']): string {
  const box = (place: string, content: string) => `@${place} { content: ${content}; ${BOX} }`;
  return `@page { size: ${SIZES[paper]}; margin: 19mm 14mm 17mm; ${[
    box('top-left', quote(left)),
    box('top-right', quote(right)),
    box('bottom-left', quote(foot)),
    box('bottom-right', 'counter(page) " of " counter(pages)'),
  ].join(' ')} }\n`;
}

const BOX =
  'font: 8pt "Source Sans 3", "Segoe UI", "Noto Sans", "Liberation Sans", "DejaVu Sans", sans-serif; color: #565d66;';

const LONGEST = 70;

/** A string of CSS that cannot end before its end: everything but letters, digits and spaces is written by its number. */
function quote(text: string): string {
  const letters = [...text.replace(/\s+/g, ' ').trim()];
  const short = letters.length > LONGEST ? [...letters.slice(0, LONGEST - 1), '…'] : letters;
  return `"${short.map((letter) => (/[A-Za-z0-9 ]/.test(letter) ? letter : `\\${letter.codePointAt(0)!.toString(16)} `)).join('')}"`;
}
