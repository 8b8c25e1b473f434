import { describe, expect, it } from 'vitest';
import { renderHtmlReport } from '../../../src/report/html/render-html.tsx';
import { translateReading } from '../../../src/wording/reading.ts';
import { sampleReading, sampleRefusal } from '../sample-reading.ts';

const pixel = 'data:image/png;base64,iVBORw0KGgo=';
const pictures = {
  overlay: { dataUri: pixel, region: { x: -0.5, y: 200.5, width: 4000, height: 2000 } },
  crops: [
    {
      place: 'centre' as const,
      markId: 'L-3-08',
      region: { x: 0, y: 0, width: 300, height: 300 },
      dataUri: { 'left-lens': pixel, 'right-lens': pixel },
    },
  ],
};
const measured = translateReading(sampleReading);
const html = renderHtmlReport(measured, pictures);

/** Elements that have an end tag, opened and closed in order. */
function findUnbalanced(source: string): string | null {
  const open: string[] = [];
  const empty = new Set(['meta', 'img', 'br', '!doctype']);
  for (const [, slash, name, selfClosing] of source
    .replace(/<style>.*<\/style>/s, '')
    .matchAll(/<(\/?)([a-z!][a-z0-9]*)[^>]*?(\/?)>/g)) {
    if (empty.has(name!) || selfClosing) continue;
    if (!slash) open.push(name!);
    else if (open.pop() !== name) return `</${name}>`;
  }
  return open.at(-1) ?? null;
}

describe('the HTML report', () => {
  it('is well formed, with and without pictures, measured and refused', () => {
    expect(findUnbalanced(html)).toBeNull();
    expect(findUnbalanced(renderHtmlReport(measured))).toBeNull();
    expect(findUnbalanced(renderHtmlReport(translateReading(sampleRefusal)))).toBeNull();
    expect(findUnbalanced('<p><b>x</p>')).toBe('</p>');
  });

  it('loads nothing and runs nothing', () => {
    expect(html).toContain('default-src &#x27;none&#x27;; img-src data:; style-src &#x27;unsafe-inline&#x27;');
    expect(html).not.toMatch(/https?:|<script|<link|<iframe|<object|@import|url\(|\son[a-z]+=/i);
    const sources = [...html.matchAll(/(?:src|href)="([^"]*)"/g)].map((match) => match[1]!);
    expect(sources.length).toBe(3);
    expect(sources.every((source) => source.startsWith('data:image/'))).toBe(true);
  });

  it('begins with the sentence', () => {
    const text = html.replace(/<head>.*<\/head>/s, '').replace(/<[^>]+>/g, '');
    expect(text.indexOf('Right-eye picture is 0.41 % too high.')).toBeGreaterThan(0);
    expect(text.indexOf('Right-eye picture is 0.41 % too high.')).toBeLessThan(text.indexOf('Vertical offset'));
  });

  it('shows each verdict by word and by shape', () => {
    expect(html).toContain('Vertical offset: outside');
    expect(html).toContain('Ghost through the right lens: undecided');
    expect(html.match(/class="verdict-shape"/g)!.length).toBeGreaterThanOrEqual(7);
  });

  it('flags the limit that is from memory, and only that one', () => {
    expect(html.match(/from memory, unconfirmed/g)).toHaveLength(1);
  });

  it('keeps what an archive needs', () => {
    for (const shot of sampleReading.shots) expect(html).toContain(shot.sha256);
    expect(html).toContain('twinplumb 0.1.0');
    expect(html).toContain('The Meridian');
    expect(html).toContain('Theatre Catalog 1953-54, p. 255');
    expect(html).toContain('2026-03-14 18:05:00 UTC');
  });

  it('states value, interval, millimetres and angles of a term', () => {
    const row = /<tr data-term="vertical_offset_pct">.*?<\/tr>/s.exec(html)![0];
    const cells = [...row.matchAll(/<td class="n">(.*?)<\/td>/g)].map((match) => match[1]);
    // 0.412 % of 4425.5 mm is 18 mm: 9.6 arcmin from 6.5 m, 4.2 arcmin from 15 m.
    expect(cells).toEqual(['+0.4120 %', '± 0.0022', '+0.4098 … +0.4142', '18 mm', '9.6′', '4.2′']);
  });

  it('has cautions wherever it gives turns: a short one beside the step, all of them after the steps', () => {
    expect(html).toContain('Nothing is adjusted while an audience is watching.');
    expect(html).toContain('Never look into the port');
    expect(html.indexOf('class="step-caution"')).toBeGreaterThan(html.indexOf('class="turns"'));
    expect(html.indexOf('class="cautions"')).toBeGreaterThan(html.indexOf('class="step-caution"'));
  });

  it('treats a hostile file name as a name', () => {
    const hostile = '"><img src=x onerror=alert(1)><script>alert(2)</script>\'&';
    const shots = sampleReading.shots.map((shot) => ({ ...shot, file: hostile }));
    const house = { ...sampleReading.house, name: hostile };
    const turns = sampleReading.turns.map((turn) => ({ ...turn, label: hostile }));
    for (const reading of [
      translateReading({ ...sampleReading, shots, house, turns }),
      translateReading({
        ...sampleRefusal,
        shots,
        refusal: { code: 'unreadable-photo', shot: null, facts: { file: hostile, reason: 'missing' } },
      }),
    ]) {
      const report = renderHtmlReport(reading, pictures);
      expect(report).not.toMatch(/<script|<img src=x/);
      expect(report).toContain('&lt;script&gt;');
      expect(findUnbalanced(report)).toBeNull();
    }
  });

  it('says what is assumed when there is no house file', () => {
    const house = {
      ...sampleReading.house,
      name: null,
      assumed: true,
      throw_m: null,
      picture_width_mm: null,
      picture_height_mm: null,
      nearest_row_m: null,
      reference_seat_m: null,
      nearest_row_ih: 1.5,
      reference_seat_ih: 3,
    };
    const report = renderHtmlReport(translateReading({ ...sampleReading, house }));
    expect(report).toContain('the seats are assumed at 1.5 and 3 picture heights');
    expect(report).not.toContain(' mm</td>');
    expect(report).not.toContain('null');
  });

  it('gives a refusal its sentence and its remedy', () => {
    const report = renderHtmlReport(translateReading(sampleRefusal));
    expect(report).toContain('moved between the two photographs, by 14 px.');
    expect(report).toContain('Lock the tripod');
    expect(report).toContain('camera-moved');
  });

  it('holds no number that is not one', () => {
    expect(html).not.toMatch(/NaN|Infinity|undefined/);
  });
});
