/** Reports and failures say nothing that is not in the catalogue. */
import { expect, it } from 'vitest';
import { renderHtmlReport } from '../../../src/report/html/render-html.tsx';
import { renderTextReport } from '../../../src/report/text/render-text.ts';
import { translateFailure, FAILURE_CODES } from '../../../src/wording/failures.ts';
import { translateReading } from '../../../src/wording/reading.ts';
import { speakPseudoLanguage, wordsOutside } from '../../wording/pseudo-language.ts';
import { sampleReading, sampleRefusal } from '../sample-reading.ts';

speakPseudoLanguage();

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
const words = (text: string) => wordsOutside(text, DATA);

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
