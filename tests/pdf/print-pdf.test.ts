/** Reports on paper, read back by other programs: pdf-lib counts and measures the pages, poppler's pdftotext reads them. */
import { execFileSync } from 'node:child_process';
import { chmodSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument } from '@cantoo/pdf-lib';
import { afterAll, describe, expect, it } from 'vitest';
import { printWith } from '../../src/pdf/print-pdf.ts';
import { renderHtmlReport } from '../../src/report/html/render-html.tsx';
import { translateReading } from '../../src/wording/reading.ts';
import { describeInBrowser, findBrowser } from '../interface/launch-browser.ts';
import { sampleReading } from '../report/sample-reading.ts';

const folder = mkdtempSync(join(tmpdir(), 'press-'));
afterAll(() => rmSync(folder, { recursive: true }));

const leftBehind = () => readdirSync(tmpdir()).filter((name) => name.startsWith('twinplumb-print-'));

/** Points, 72 to the inch. */
const SIZES = { a4: [595.3, 841.9], letter: [612, 792] } as const;
const TIMEOUT_MS = 120_000;

const hasPdftotext = (() => {
  try {
    execFileSync('pdftotext', ['-v'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
})();
if (!hasPdftotext) process.stderr.write('SKIPPED the text of pages: pdftotext of poppler-utils is not installed\n');

function readPages(bytes: Uint8Array): string[] {
  const path = join(folder, 'read.pdf');
  writeFileSync(path, bytes);
  return execFileSync('pdftotext', ['-layout', path, '-'], { encoding: 'utf8' }).split('\f').slice(0, -1);
}

describeInBrowser('a report on paper', () => {
  const found = findBrowser();
  const browser = 'path' in found ? found.path : '';

  it.each(['a4', 'letter'] as const)(
    'has whole pages of %s, each with its head and its number',
    { timeout: TIMEOUT_MS },
    async (paper) => {
      const html = renderHtmlReport(translateReading(sampleReading), undefined, { paper });
      const printed = await printWith(browser, html);
      if (printed.outcome !== 'printed') throw new Error(JSON.stringify(printed));
      const document = await PDFDocument.load(printed.bytes);
      const pages = document.getPages();
      expect(pages.length).toBeGreaterThan(1);
      expect(pages.length).toBeLessThan(8);
      for (const page of pages) {
        expect(Math.abs(page.getWidth() - SIZES[paper][0])).toBeLessThan(1);
        expect(Math.abs(page.getHeight() - SIZES[paper][1])).toBeLessThan(1);
      }
      expect(leftBehind()).toEqual([]);
      if (!hasPdftotext) return;
      const texts = readPages(printed.bytes);
      expect(texts).toHaveLength(pages.length);
      texts.forEach((text, i) => {
        expect(text).toContain(`${i + 1} of ${pages.length}`);
        expect(text).toContain('The Meridian');
        expect(text).toContain('twinplumb 0.1.0');
      });
      const whole = texts.join('\n');
      for (const part of [
        'Right-eye picture is 0.41 % too high',
        'Worst vertical error',
        'Limits in force',
        'Method',
        'Safety',
      ])
        expect(whole).toContain(part);
      // The head of a table stands again on the next page; no row is cut: each limit's row has its verdict on its own line.
      expect(whole.match(/SHA-256 [0-9a-f]{64}/g)).toHaveLength(2);
    },
  );
});

describe('where there are no pages', () => {
  it('says what became of the browser, and leaves nothing behind', async () => {
    const failing = join(folder, 'failing');
    writeFileSync(failing, '#!/bin/sh\nexit 3\n');
    chmodSync(failing, 0o755);
    expect(await printWith(failing, '<p>x</p>')).toMatchObject({
      code: 'print-failed',
      facts: { reason: 'ended with 3' },
    });
    expect(await printWith(join(folder, 'none'), '<p>x</p>')).toMatchObject({ facts: { reason: 'ENOENT' } });
    const endless = join(folder, 'endless');
    writeFileSync(endless, '#!/bin/sh\nexec sleep 60\n');
    chmodSync(endless, 0o755);
    expect(await printWith(endless, '<p>x</p>', 300)).toMatchObject({
      facts: { reason: expect.stringContaining('not done') },
    });
    expect(leftBehind()).toEqual([]);
  });
});
