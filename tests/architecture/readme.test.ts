/** What README.md says that is printed, and stated of the photographs that come with it, is so. Figures may differ from machine to machine by rounding. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { measurePhotographs } from '../../src/application/measure-photographs.ts';
import type { PhotographRole } from '../../src/record/roles.ts';
import { runCommandLine } from '../../src/shells/command/command-line.ts';
import { meridian } from '../limits/reading-of.ts';
import { ROOT, readText } from './source-files.ts';

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

it.each([
  ['README.md', 6],
  ['src/manual/commands.md', 30],
])('%s shows the demo line by line; … stands for lines left out', (page, least) => {
  const block = /<!-- demo:begin -->\n([\s\S]*?)<!-- demo:end -->/.exec(readText(page))![1]!;
  const shown = block.split('\n').filter((line) => line.startsWith('    ') && line.trim() !== '…');
  expect(shown.length).toBeGreaterThan(least);
  let at = 0;
  for (const line of shown) {
    const found = printed.indexOf(withoutFigures(line), at);
    expect(found, `"${line.trim()}" is printed, after what stands before it`).toBeGreaterThanOrEqual(0);
    at = found + 1;
  }
});

it('states what repeats how well as it is measured, to the digits it has', async () => {
  const table = /<!-- holds:begin -->\n([\s\S]*?)<!-- holds:end -->/.exec(readText('README.md'))![1]!;
  const rows = table.split('\n').filter((line) => line.includes('`meridian-'));
  expect(rows).toHaveLength(3);
  for (const row of rows) {
    const set = /`(meridian-[\w-]+)`/.exec(row)![1]!;
    const stated = /± ([\d.]+) %/.exec(row)![1]!;
    const roles: readonly PhotographRole[] = row.includes('without glasses') ? ['bare'] : ['left-lens', 'right-lens'];
    const reading = await measurePhotographs({
      photographs: roles.map((role) => ({ role, path: join(ROOT, 'test-images', set, `${role}.jpg`), name: role })),
      house: meridian(),
      softwareVersion: '0',
    });
    if (reading.outcome === 'refused') throw new Error(reading.refusal.code);
    const expanded = 2 * reading.misalignment.vertical_offset_pct.u_repeat!;
    expect(expanded.toFixed(stated.split('.')[1]!.length), row).toBe(stated);
  }
});

it('works an uncertainty out on the manual’s page as the program does', async () => {
  const table = /<!-- budget:begin -->\n([\s\S]*?)<!-- budget:end -->/.exec(readText('src/manual/uncertainty.md'))![1]!;
  const stated = table
    .split('\n')
    .filter((line) => /\d \|$/.test(line))
    .map((line) => line.split('|').at(-2)!.trim());
  const photographs = (['left-lens', 'right-lens'] as const).map((role) => ({
    role,
    path: join(ROOT, 'test-images', 'meridian-13-dim-noisy', `${role}.jpg`),
  }));
  const reading = await measurePhotographs({ photographs, house: meridian(), softwareVersion: '0' });
  if (reading.outcome === 'refused') throw new Error(reading.refusal.code);
  const { lines, u, u_repeat } = reading.budget!.find(({ figure }) => figure === 'vertical_offset_pct')!;
  const sources = ['filter-wedge', 'film-jump', 'print-eyes', 'print-marks', 'marks'];
  const computed = [...sources.map((source) => lines.find((line) => line.source === source)!.u), u, u_repeat];
  expect(stated).toEqual(computed.map((value, i) => value.toFixed(stated[i]!.split('.')[1]!.length)));
  // By hand, as the page says it.
  const height_mm = 20.95 / 2.35;
  const wedge = (Math.SQRT2 * Math.tan(Math.PI / 180 / 60) * 15) / (10.4 / 2.35);
  const [film, eyes] = [(Math.SQRT2 * 0.005) / height_mm, 0.005 / height_mm];
  expect(computed.slice(0, 3)).toEqual([wedge, film, eyes].map((part) => expect.closeTo(100 * part, 4)));
  expect(u).toBeCloseTo(Math.hypot(...lines.map((line) => line.u)), 9);
});
