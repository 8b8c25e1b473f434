/**
 * The look of the report: dark on light, one column with headings in the margin, verdicts by word and shape, orange
 * and blue only for the two eyes' pictures (told apart by colour-blind readers, and by lightness when printed in grey).
 */
const LEFT_COLOUR = '#c2610c';
const RIGHT_COLOUR = '#1d4f91';

export const STYLE = `
:root { --ink: #16191d; --soft: #565d66; --line: #c9ced6; --ground: #f3f4f1; --raised: #fff; --edge: #7d848e; --accent: #16191d; --within: #16191d; --outside: #16191d; --undecided: #16191d; --left: ${LEFT_COLOUR}; --right: ${RIGHT_COLOUR}; }
* { box-sizing: border-box; }
html { background: #fff; color: var(--ink); font: 16px/1.5 "Source Sans 3", "Segoe UI", "Noto Sans", "Liberation Sans", "DejaVu Sans", sans-serif; }
body { max-width: 76rem; margin: 0 auto; padding: 2rem clamp(1rem, 3vw, 2.5rem) 4rem; font-variant-numeric: tabular-nums; }
h1, h2, h3, p, ol, ul, dl, figure, table { margin: 0; }
h1 { font-size: clamp(1.9rem, 4.2vw, 3.1rem); line-height: 1.16; letter-spacing: -0.01em; font-weight: 700; text-wrap: balance; max-width: 24em; }
h2 { font-size: 1.06rem; line-height: 1.3; font-weight: 700; }
h3 { font-size: 1rem; font-weight: 700; }
h1.long { font-size: clamp(1.5rem, 3vw, 2.2rem); max-width: 34em; }
.origin { display: flex; flex-wrap: wrap; gap: 0.2rem 1.6rem; color: var(--soft); padding-bottom: 1.1rem; }
.origin b { color: var(--ink); }
.lead { border-top: 6px solid var(--ink); padding: 1.4rem 0 1.8rem; }
.lead .why { font-size: 1.3rem; margin-top: 0.8rem; max-width: 44em; }
.step-caution { font-weight: 600; font-size: 0.95rem; }
.step-caution:not(:empty)::before { content: '\\26A0\\FE0E\\2002'; }
.signature { display: grid; grid-template-columns: 2fr 1fr 2fr; gap: 2rem; padding-top: 3.2rem; break-inside: avoid; }
.signature p { border-top: 1px solid var(--ink); padding-top: 0.3rem; color: var(--soft); font-size: 0.92rem; }
.overall { display: flex; gap: 0.5rem; align-items: center; margin-top: 0.9rem; font-weight: 700; }
.overall .verdict-shape { width: 1.25rem; }
.verdicts { list-style: none; padding: 0; margin-top: 1.5rem; display: grid; grid-template-columns: repeat(auto-fill, minmax(17rem, 1fr)); gap: 0 1.6rem; }
.verdicts li { display: grid; grid-template-columns: 1.5rem 1fr; gap: 0.5rem; align-items: start; padding: 0.5rem 0; border-top: 1px solid var(--line); }
.verdicts .verdict-shape { margin-top: 0.25rem; }
.verdicts b { display: block; }
.verdicts div > span { color: var(--soft); font-size: 0.92rem; }
section { display: grid; grid-template-columns: 12.5rem minmax(0, 1fr); gap: 0.4rem 2.2rem; border-top: 2px solid var(--ink); padding: 1.1rem 0 2.1rem; }
section > header { grid-column: 1; }
section.wide { grid-template-columns: minmax(0, 1fr); }
section.wide > .body { grid-column: 1; }
section.wide > header { display: flex; flex-wrap: wrap; gap: 0 1rem; align-items: baseline; }
section > header p { color: var(--soft); font-size: 0.9rem; margin-top: 0.3rem; }
section > .body { grid-column: 2; display: grid; gap: 1.1rem; min-width: 0; }
.verdict-mark { display: inline-flex; gap: 0.35rem; align-items: center; white-space: nowrap; }
.verdict-shape { width: 1.15rem; height: 1.15rem; flex: none; }
.soft { color: var(--soft); }
.note { color: var(--soft); font-size: 0.9rem; max-width: 56em; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-size: 0.94rem; }
th, td { text-align: left; padding: 0.42rem 0.9rem 0.42rem 0; border-bottom: 1px solid var(--line); vertical-align: middle; }
thead th { font-weight: 600; color: var(--soft); font-size: 0.84rem; line-height: 1.25; vertical-align: bottom; border-bottom: 1px solid var(--ink); }
tbody th { font-weight: 600; }
.terms tbody th { white-space: nowrap; line-height: 1.3; }
.n { text-align: right; white-space: nowrap; }
.terms thead th { white-space: normal; }
.terms th, .terms td { padding-right: 0.8rem; }
.terms tbody th .soft { display: block; font-weight: 400; font-size: 0.8rem; line-height: 1.25; white-space: normal; max-width: 10.5rem; }
.repeatable { display: block; font-size: 0.8rem; }
.budgets { display: grid; grid-template-columns: repeat(auto-fill, minmax(29rem, 1fr)); gap: 1.6rem 2.4rem; align-items: start; }
.budget caption { text-align: left; font-weight: 700; padding-bottom: 0.2rem; }
.budget table { font-size: 0.88rem; }
.budget th, .budget td { padding: 0.2rem 0.6rem 0.2rem 0; }
.budget tbody th .soft { display: block; font-weight: 400; font-size: 0.8rem; line-height: 1.2; }
.budget tfoot th { font-weight: 400; } .budget tfoot tr:first-child > * { font-weight: 700; border-top: 1px solid var(--ink); }
.budget .share { width: 5rem; } .budget .share svg { width: 100%; height: 0.5rem; display: block; }
.budget abbr { text-decoration: none; }
.budget figcaption { display: block; color: var(--ink); }
.against .soft { display: block; max-width: 12.5rem; font-size: 0.88rem; line-height: 1.25; }
.judged { display: grid; grid-template-columns: minmax(6.5rem, 11rem) auto; gap: 0.7rem; align-items: center; justify-content: start; }
.tolerance-bar { width: 100%; height: auto; display: block; }
.overlay { width: 100%; height: auto; display: block; background: #0d0f12; }
figcaption { display: flex; flex-wrap: wrap; gap: 0.2rem 1.5rem; font-size: 0.9rem; color: var(--soft); margin-top: 0.5rem; }
figcaption svg { width: 1.6rem; height: 0.8rem; margin-right: 0.4rem; vertical-align: -0.08rem; }
.turns { list-style: none; padding: 0; display: grid; grid-template-columns: repeat(auto-fill, minmax(20rem, 1fr)); gap: 1rem; }
.turns li { display: grid; grid-template-columns: 8.5rem 1fr; gap: 0.9rem; align-items: start; border: 1px solid var(--line); background: var(--ground); padding: 0.8rem; break-inside: avoid; }
.turns .what { font-size: 1.12rem; font-weight: 700; line-height: 1.25; }
.turns .how { font-size: 1.12rem; }
.dial { width: 8.5rem; height: auto; display: block; }
.cautions { border: 2px solid var(--ink); border-left-width: 10px; padding: 0.9rem 1.2rem 1rem; }
.cautions ul { padding-left: 1.1rem; margin-top: 0.3rem; columns: 2 22rem; column-gap: 2rem; font-size: 0.94rem; }
.cautions li { break-inside: avoid; padding-bottom: 0.25rem; }
.lenses { display: grid; grid-template-columns: repeat(auto-fit, minmax(18rem, 1fr)); gap: 1.4rem; }
.lens { border-top: 4px solid var(--lens); padding-top: 0.6rem; break-inside: avoid; }
.lens-left { --lens: var(--left); } .lens-right { --lens: var(--right); }
.term-figure { display: flex; flex-wrap: wrap; gap: 0 0.6rem; align-items: baseline; }
.term-figure b { font-size: 1.7rem; line-height: 1.2; }
.strengths-what { margin-top: 0.8rem; font-size: 0.9rem; }
.strengths { display: grid; gap: 0.3rem; font-size: 0.9rem; }
.strengths dt { color: var(--soft); }
.strengths dd { display: grid; grid-template-columns: minmax(0, 18rem) 4.5em; gap: 0.6rem; align-items: center; margin: 0; }
.strengths svg { width: 100%; height: 0.5rem; }
.strengths span { text-align: right; }
.ghost-map { width: 100%; max-width: 24rem; margin-top: 0.8rem; table-layout: fixed; border-collapse: separate; border-spacing: 2px; font-size: 0.8rem; }
.ghost-map caption { text-align: left; color: var(--soft); font-size: 0.9rem; }
.ghost-map td { padding: 0.25rem 0; text-align: center; border-bottom: 2px solid var(--line); }
.ghost-map td[data-shade="1"] { background: #f0f1f2; } .ghost-map td[data-shade="2"] { background: #e4e6e8; } .ghost-map td[data-shade="3"] { background: #d8dbde; } .ghost-map td[data-shade="4"] { background: #cdd1d5; }
.causes { padding-left: 1.3rem; display: grid; gap: 1rem; }
.causes ul { padding-left: 1.1rem; }
.crops { display: grid; grid-template-columns: repeat(auto-fill, minmax(19rem, 1fr)); gap: 1.2rem; }
.crops figure { break-inside: avoid; }
.crops .both { display: grid; grid-template-columns: 1fr 1fr; gap: 4px; }
.crops img { width: 100%; aspect-ratio: 1; object-fit: cover; display: block; border-bottom: 4px solid var(--lens); }
dl.facts { display: grid; grid-template-columns: max-content minmax(0, 1fr); gap: 0.25rem 1.4rem; font-size: 0.94rem; }
dl.facts dt { color: var(--soft); } dl.facts dd { margin: 0; overflow-wrap: anywhere; }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 1rem 1.6rem; }
.pair h3 { border-top: 2px solid var(--ink); padding-top: 0.4rem; }
.pair p { margin-bottom: 0.6rem; }
.trend { width: 100%; height: auto; display: block; }
code { font: 0.86em/1.4 "DejaVu Sans Mono", Consolas, monospace; overflow-wrap: anywhere; }
@media (max-width: 60rem) { section { grid-template-columns: minmax(0, 1fr); } section > header, section > .body { grid-column: 1; } }
@media print {
  html { font-size: 10.5px; }
  body { padding: 0; max-width: none; }
  /* Blocks alone: they break between their lines, rows and pictures, and nowhere else. */
  section, section.wide { display: block; padding: 0.8rem 0 1.4rem; }
  section > header, section.wide > header { display: flex; flex-wrap: wrap; gap: 0 1rem; align-items: baseline; margin-bottom: 0.7rem; break-after: avoid; }
  section > header p { margin-top: 0; }
  section > .body { display: block; }
  section > .body > * + * { margin-top: 0.9rem; }
  .judged { grid-template-columns: minmax(5rem, 8rem) auto; }
  .overlay { max-height: 11.5cm; }
  .overlay, .crops img, .ghost-scale, .ghost-map, .strengths, .tolerance-bar, .share svg, .trend, .turns li { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .scroll { overflow: visible; }
  .lead { padding: 1rem 0 1.2rem; }
  .lead, tr, figure, svg, table.after, .budget, .cautions, .lens, .pair > div, .causes li li, dl.facts dd { break-inside: avoid; }
  dl.facts dt { break-after: avoid; }
  h2, h3, thead, .cautions h3 { break-after: avoid; }
  p, li { orphans: 3; widows: 3; }
  .crops { grid-template-columns: repeat(3, 1fr); gap: 0.8rem; }
  .turns { grid-template-columns: 1fr 1fr; }
  .budgets { display: block; columns: 2; column-gap: 1.6rem; }
  .budget { margin-bottom: 1rem; }
}
`;

export const PAPERS = ['a4', 'letter'] as const;
export type Paper = (typeof PAPERS)[number];

const SIZES: Readonly<Record<Paper, string>> = { a4: 'A4', letter: 'letter' };

/** Boxes in the margins of pages: CSS Paged Media Module, level 3. */
export function stylePages(
  paper: Paper,
  { left, right, foot }: Readonly<Record<'left' | 'right' | 'foot', string>>,
): string {
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
