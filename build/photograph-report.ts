/**
 * Makes src/manual/pictures/report.png: the upper part of the demo's report as a browser shows it.
 *
 *   npm run build && npx tsx build/photograph-report.ts
 *
 * CHROMIUM names the browser; without it Playwright's own is used.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright';
import sharp from 'sharp';

const root = join(import.meta.dirname, '..');
const folder = mkdtempSync(join(tmpdir(), 'report-'));
const report = join(folder, 'report.html');
execFileSync(process.execPath, [join(root, 'out', 'node', 'twinplumb.js'), 'demo', '--report', report]);

const executablePath = process.env.CHROMIUM;
const browser = await chromium.launch({
  args: ['--no-sandbox', '--disable-background-networking'],
  ...(executablePath === undefined ? {} : { executablePath }),
});
const page = await browser.newPage({ viewport: { width: 1100, height: 1700 } });
await page.goto(pathToFileURL(report).href);
const picture = await page.screenshot();
await browser.close();
rmSync(folder, { recursive: true });

// Few colours are enough for a page of text, and keep the picture small.
await sharp(picture)
  .png({ palette: true, colours: 128, effort: 10, compressionLevel: 9 })
  .toFile(join(root, 'src', 'manual', 'pictures', 'report.png'));
