/** What README.md says that the demo prints is what it prints. Figures may differ from machine to machine by rounding. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { runCommandLine } from '../../src/shells/command/command-line.ts';
import { readText, ROOT } from './source-files.ts';

let folder = '';
let printed: string[] = [];

const withoutFigures = (line: string) =>
  line
    .trim()
    .replace(/[-+−]?\d[\d./]*/g, '#')
    .replace(/\s+/g, ' ');

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'demo-'));
  const parts: string[] = [];
  const terminal = { print: (text: string) => parts.push(text), remark: () => {}, trace: false };
  const words = ['demo', '--report', join(folder, 'report.html')];
  const status = await runCommandLine(words, terminal, { root: ROOT, version: '0.1.0' });
  expect(status).toBe(0);
  printed = parts.join('').split('\n').map(withoutFigures);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

it('shows the demo line by line; … stands for lines left out', () => {
  const block = /<!-- demo:begin -->\n([\s\S]*?)<!-- demo:end -->/.exec(readText('README.md'))![1]!;
  const shown = block.split('\n').filter((line) => line.startsWith('    ') && line.trim() !== '…');
  expect(shown.length).toBeGreaterThan(12);
  let at = 0;
  for (const line of shown) {
    const found = printed.indexOf(withoutFigures(line), at);
    expect(found, `"${line.trim()}" is printed, after what stands before it`).toBeGreaterThanOrEqual(0);
    at = found + 1;
  }
});
