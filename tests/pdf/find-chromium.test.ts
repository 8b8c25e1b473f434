import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { findChromium } from '../../src/pdf/print-pdf.ts';

const folder = mkdtempSync(join(tmpdir(), 'press-'));
afterAll(() => rmSync(folder, { recursive: true }));
const browser = join(folder, 'chromium');
writeFileSync(browser, '#!/bin/sh\n');
chmodSync(browser, 0o755);

it('is the one that is named, or none where that does not exist', async () => {
  const other = join(folder, 'other');
  const PATH = folder;
  expect(await findChromium({ platform: 'linux', env: { TWINPLUMB_BROWSER: browser } })).toBe(browser);
  expect(await findChromium({ platform: 'linux', env: { TWINPLUMB_BROWSER: other, PATH } })).toBeUndefined();
});

it('is found on the path of commands, and not invented', async () => {
  expect(await findChromium({ platform: 'linux', env: { PATH: `/nowhere:${folder}` } })).toBe(browser);
  expect(await findChromium({ platform: 'linux', env: { PATH: '/nowhere' } })).toBeUndefined();
  expect(await findChromium({ platform: 'linux', env: {} })).toBeUndefined();
  expect(await findChromium({ platform: 'win32', env: {} })).toBeUndefined();
});
