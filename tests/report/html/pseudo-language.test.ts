/** With every message of the catalogue in brackets, whatever stands outside them never passed it. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { renderHtmlReport } from '../../../src/report/html/render-html.tsx';
import { renderTextReport } from '../../../src/report/text/render-text.ts';
import { transformMessages } from '../../../src/wording/catalogue.ts';
import { translateFailure, FAILURE_CODES } from '../../../src/wording/failures.ts';
import { translateReading } from '../../../src/wording/reading.ts';
import { sampleReading, sampleRefusal } from '../sample-reading.ts';

beforeAll(() => transformMessages((message) => `⟦${message}⟧`));
afterAll(() => transformMessages(null));

/** What stands outside brackets, messages within messages included. */
function outside(text: string): string {
  let depth = 0;
  let rest = '';
  for (const letter of text) {
    if (letter === '⟦') depth++;
    else if (letter === '⟧') depth--;
    else if (depth === 0) rest += letter;
    if (letter === '⟧') rest += ' ';
  }
  expect(depth).toBe(0);
  return rest;
}

const visible = (html: string) =>
  html
    .replace(/<style>.*?<\/style>|<code>.*?<\/code>/gs, ' ')
    .replace(/ (?:aria-label|alt)="([^"]*)"/g, '>$1<i ')
    .replace(/<[^>]*>/g, ' ')
    .replace(/&[a-z]+;|&#x?\w+;/g, ' ');

/**
 * Data: units, names of files and marks, the program's own name, the schema, and code and facts of a refusal as JSON names them, the
 * house's own labels, and the titles of publications that limits come from.
 */
const DATA =
  /Three-Dimensional Photography \(early 1950s\)|: a quarter prism dioptre|Theatre Catalog|SID Digest|\b(?:The Meridian|Upper screw|twinplumb[./-]reading|camera-moved|moved_px|mm|px|deg|u|SHA|twinplumb|Twinplumb|[\w-]+\.(?:jpg|png|tif)|[LR]-\d+-\d+)\b/g;
const words = (text: string) => [
  ...new Set(
    outside(text)
      .replace(DATA, ' ')
      .match(/\p{L}{3,}/gu) ?? [],
  ),
];

it('sees what never passed the catalogue', () => {
  expect(words('⟦Found ⟦one⟧ mark⟧ planted 3 mm left.jpg')).toEqual(['planted']);
});

it.each([
  ['measured', sampleReading],
  ['refused', sampleRefusal],
])('text and HTML of a %s reading say nothing else', (_, reading) => {
  const worded = translateReading(reading);
  expect({ text: words(renderTextReport(worded)), html: words(visible(renderHtmlReport(worded))) }).toEqual({
    text: [],
    html: [],
  });
});

it('failures say nothing else', () => {
  for (const code of FAILURE_CODES) {
    const { message, remedy } = translateFailure(code, { count: 2 });
    expect(words(`${message} ${remedy}`), code).toEqual([]);
  }
});
