import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { refuse } from '../../../src/kernel/refusal.ts';
import { UsageError } from '../../../src/shells/command/exit-status.ts';
import { writeDocument } from '../../../src/shells/command/write-report.ts';

const folder = mkdtempSync(join(tmpdir(), 'document-'));
afterAll(() => rmSync(folder, { recursive: true }));
const at = (name: string) => join(folder, name);

it('writes HTML as it is, and pages where the name ends so', async () => {
  const print = async () => ({ outcome: 'printed' as const, bytes: Buffer.from('%PDF-1.7') });
  await writeDocument(at('a.html'), '<p>x</p>', { print });
  await writeDocument(at('b.PDF'), '<p>x</p>', { print });
  expect(readFileSync(at('a.html'), 'utf8')).toBe('<p>x</p>');
  expect(readFileSync(at('b.PDF'), 'utf8')).toMatch(/^%PDF-1\.7\n% twinplumb\.report/);
});

it('writes the HTML beside, and says why and what to do, where no pages can be made', async () => {
  const written = writeDocument(at('c.pdf'), '<p>x</p>', { print: async () => refuse('no-printer') });
  await expect(written).rejects.toThrow(UsageError);
  await expect(written).rejects.toThrow(/No Chromium was found.* Install Chromium.*written to .*c\.html instead/);
  expect(readFileSync(at('c.html'), 'utf8')).toBe('<p>x</p>');
  expect(existsSync(at('c.pdf'))).toBe(false);
});

it('blames the place that was named where nothing can be written there', async () => {
  await expect(writeDocument(at('a.html/below/d.html'), '<p>x</p>')).rejects.toThrow(UsageError);
});
