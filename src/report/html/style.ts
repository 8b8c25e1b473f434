/**
 * The look of the report: dark on light, one column with headings in the margin, verdicts by word and shape, orange
 * and blue only for the two eyes' pictures (told apart by colour-blind readers, and by lightness when printed in grey).
 */
export const LEFT_COLOUR = '#c2610c';
export const RIGHT_COLOUR = '#1d4f91';
/** The same two as they come out of the overlay, where they add up to white on black. */
export const OVERLAY_LEFT = '#ffad31';
export const OVERLAY_RIGHT = '#00c7fb';

export const STYLE = `
:root { --ink: #16191d; --soft: #565d66; --line: #c9ced6; --ground: #f3f4f1; --left: ${LEFT_COLOUR}; --right: ${RIGHT_COLOUR}; }
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
.verdicts { list-style: none; padding: 0; margin-top: 1.5rem; display: grid; grid-template-columns: repeat(auto-fill, minmax(17rem, 1fr)); gap: 0 1.6rem; }
.verdicts li { display: grid; grid-template-columns: 1.5rem 1fr; gap: 0.5rem; align-items: start; padding: 0.5rem 0; border-top: 1px solid var(--line); }
.verdicts .shape { margin-top: 0.25rem; }
.verdicts b { display: block; }
.verdicts span { color: var(--soft); font-size: 0.92rem; }
section { display: grid; grid-template-columns: 12.5rem minmax(0, 1fr); gap: 0.4rem 2.2rem; border-top: 2px solid var(--ink); padding: 1.1rem 0 2.1rem; }
section > header { grid-column: 1; }
section.wide { grid-template-columns: minmax(0, 1fr); }
section.wide > .body { grid-column: 1; }
section.wide > header { display: flex; flex-wrap: wrap; gap: 0 1rem; align-items: baseline; }
section > header p { color: var(--soft); font-size: 0.9rem; margin-top: 0.3rem; }
section > .body { grid-column: 2; display: grid; gap: 1.1rem; min-width: 0; }
.shape { width: 1.15rem; height: 1.15rem; flex: none; vertical-align: -0.2rem; }
.soft { color: var(--soft); }
.note { color: var(--soft); font-size: 0.9rem; max-width: 56em; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-size: 0.94rem; }
th, td { text-align: left; padding: 0.42rem 0.9rem 0.42rem 0; border-bottom: 1px solid var(--line); vertical-align: middle; }
thead th { font-weight: 600; color: var(--soft); font-size: 0.84rem; line-height: 1.25; vertical-align: bottom; border-bottom: 1px solid var(--ink); }
tbody th { font-weight: 600; }
.terms tbody th { white-space: nowrap; }
.n { text-align: right; white-space: nowrap; }
.bar { width: 12rem; min-width: 9rem; height: auto; display: block; }
.verdict { white-space: nowrap; }
.verdict .shape { margin-right: 0.35rem; }
.overlay { width: 100%; height: auto; display: block; background: #0d0f12; }
figcaption { display: flex; flex-wrap: wrap; gap: 0.2rem 1.5rem; font-size: 0.9rem; color: var(--soft); margin-top: 0.5rem; }
figcaption svg { width: 1.6rem; height: 0.8rem; margin-right: 0.4rem; vertical-align: -0.08rem; }
.turns { list-style: none; padding: 0; display: grid; grid-template-columns: repeat(auto-fill, minmax(19rem, 1fr)); gap: 1rem; }
.turns li { display: grid; grid-template-columns: 6.5rem 1fr; gap: 1rem; align-items: center; border: 1px solid var(--line); background: var(--ground); padding: 0.8rem; break-inside: avoid; }
.turns .what { font-size: 1.12rem; font-weight: 700; line-height: 1.25; }
.turns .how { font-size: 1.12rem; }
.dial { width: 6.5rem; height: 6.5rem; display: block; }
.cautions { border: 2px solid var(--ink); border-left-width: 10px; padding: 0.9rem 1.2rem 1rem; }
.cautions ul { padding-left: 1.1rem; margin-top: 0.3rem; columns: 2 22rem; column-gap: 2rem; font-size: 0.94rem; }
.cautions li { break-inside: avoid; padding-bottom: 0.25rem; }
.panels { display: grid; grid-template-columns: repeat(auto-fit, minmax(18rem, 1fr)); gap: 1.4rem; }
.lens { border-top: 4px solid var(--lens); padding-top: 0.6rem; }
.lens .big { font-size: 1.7rem; font-weight: 700; line-height: 1.2; }
.causes { padding-left: 1.3rem; display: grid; gap: 1rem; }
.causes ul { padding-left: 1.1rem; }
.crops { display: grid; grid-template-columns: repeat(auto-fill, minmax(19rem, 1fr)); gap: 1.2rem; }
.crops figure { break-inside: avoid; }
.crops .both { display: grid; grid-template-columns: 1fr 1fr; gap: 4px; }
.crops img { width: 100%; aspect-ratio: 1; object-fit: cover; display: block; border-bottom: 4px solid var(--lens); }
.l { --lens: var(--left); } .r { --lens: var(--right); }
dl.facts { display: grid; grid-template-columns: max-content minmax(0, 1fr); gap: 0.25rem 1.4rem; font-size: 0.94rem; }
dl.facts dt { color: var(--soft); } dl.facts dd { margin: 0; overflow-wrap: anywhere; }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 1rem 1.6rem; }
.pair h3 { border-top: 2px solid var(--ink); padding-top: 0.4rem; }
.pair p { margin-bottom: 0.6rem; }
.trend { width: 100%; height: auto; display: block; font-size: 11px; }
.trend text { fill: #565d66; }
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
  .bar { width: 9rem; min-width: 6rem; }
  .overlay { max-height: 11.5cm; }
  .overlay, .crops img, .leak, .trend, .turns li { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .scroll { overflow: visible; }
  .lead { padding: 1rem 0 1.2rem; }
  .lead, tr, figure, svg, table.after, .cautions, .panels, .pair > div, .causes li li, dl.facts dd { break-inside: avoid; }
  dl.facts dt { break-after: avoid; }
  h2, h3, thead, .cautions h3 { break-after: avoid; }
  p, li { orphans: 3; widows: 3; }
  .crops { grid-template-columns: repeat(3, 1fr); gap: 0.8rem; }
  .turns { grid-template-columns: 1fr 1fr; }
}
`;
