/** A rehearsal with all its photographs: the commands that it names are run as they stand, and find what the truth says. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { evenness, type MeasuredEvennessRecord } from '../../src/record/evenness.ts';
import { nullSearch } from '../../src/record/null-search.ts';
import { portShots } from '../../src/record/port-shots.ts';
import { reading } from '../../src/record/reading.ts';
import type { TruthRecord } from '../../src/scene/truth-record.ts';
import { runCommandLine } from '../../src/shells/command/command-line.ts';
import { FURTHER_WORDS } from '../../src/shells/command/rehearsal-options.ts';

interface Measured {
  readonly value: number;
  readonly u: number;
}

let folder: string;
let lines: string[];
let truth: TruthRecord;

async function run(...words: string[]) {
  const printed: string[] = [];
  const remarks: string[] = [];
  const terminal = { print: (t: string) => printed.push(t), remark: (t: string) => remarks.push(t), trace: true };
  const status = await runCommandLine(words, terminal, { root: '.', version: '9.9.9' });
  return { status, text: printed.join(''), remarks: remarks.join('') };
}

/** The line that rehearse printed, as a shell takes it apart, with `--json`. */
async function runNamed(start: string, also = ''): Promise<unknown> {
  const line = lines.find((one) => one.startsWith(`twinplumb ${start}`) && one.includes(also))!;
  const words = [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, plain]) => quoted ?? plain!);
  const { status, text } = await run(...words.slice(1), '--json');
  expect(status, text).toBe(0);
  return JSON.parse(text);
}

/** Within the interval of 99.7 %: over all that is compared here one in a hundred may miss that of 95 %. */
function expectTrue({ value, u }: Measured, exact: { readonly value: number }, name: string): void {
  expect(Math.abs(value - exact.value), `${name}: ${value} ± ${u}, truly ${exact.value}`).toBeLessThanOrEqual(3 * u);
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rehearsal all '));
  const wishes = ['--width', '2000', '--fault', 'projector-polarizer-turned', '--also', ...FURTHER_WORDS];
  const { status, text, remarks } = await run('rehearse', '--seed', '21', '--out', folder, ...wishes);
  expect([status, remarks]).toEqual([0, '']);
  lines = text.trim().split('\n');
  truth = JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8')) as TruthRecord;
}, 600_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a rehearsal with further photographs', () => {
  it('writes what it names, and names a command for each', () => {
    const files = lines.filter((line) => !line.startsWith('twinplumb '));
    expect(files).toHaveLength(2 + 1 + 4 + 2 + 8);
    for (const file of files) expect(readFileSync(file).length).toBeGreaterThan(1000);
    const commands = lines.slice(files.length).map((line) => line.split(' ')[1]);
    expect(commands).toEqual(['measure', 'evenness', 'evenness', 'evenness', 'ports', 'null']);
  });

  it('measure: nothing moved, as the closing photograph shows, and the ghost is the planted one', async () => {
    const record = reading.parse(await runNamed('measure'));
    if (record.outcome === 'refused') throw new Error(record.refusal.message);
    expect(record.steadiness).not.toBeNull();
    for (const term of ['crosstalk_left_pct', 'crosstalk_right_pct'] as const) {
      expectTrue(record.eyes[term]!, truth.eyes[term], term);
    }
    expectTrue(record.misalignment.vertical_offset_pct, truth.misalignment.vertical_offset_pct, 'vertical offset');
  });

  it('evenness: of both eyes’ pictures, of the bare target and of the open gate', async () => {
    const { evenness: pair, open_gate } = truth.further!;
    const eyes = measuredEvenness(await runNamed('evenness', '--right'));
    const [leftEye, rightEye] = eyes.pictures;
    expectPlaces(leftEye!, pair!.left_eye_of_centre_pct);
    expectPlaces(rightEye!, pair!.right_eye_of_centre_pct);
    expectTrue(eyes.balance!.right_over_left_pct, pair!.right_over_left_pct, 'balance');
    const bare = measuredEvenness(await runNamed('evenness', 'bare.jpg'));
    expectPlaces(bare.pictures[0]!, pair!.left_eye_of_centre_pct);
    const gate = measuredEvenness(await runNamed('evenness', '--open-gate'));
    expect(gate.vignetting.method).toBe('flat-field');
    expectPlaces(gate.pictures[0]!, open_gate!.of_centre_pct);
  });

  it('ports: each keeps what its polarizer lets through', async () => {
    const record = portShots.parse(await runNamed('ports'));
    if (record.outcome === 'refused') throw new Error(record.refusal.message);
    const { ports } = truth.further!.ports!;
    expect(record.ports.map(({ place }) => place).toSorted()).toEqual(['lower', 'upper']);
    for (const port of record.ports) {
      const exact = ports.find(({ place }) => place === port.place)!;
      expect(port.darker_through).toBe(exact.darker_through);
      expectTrue(port.kept_pct, exact.kept_pct, port.place);
      expect(Math.hypot(port.x_px - exact.centre_px[0], port.y_px - exact.centre_px[1])).toBeLessThan(3);
    }
  });

  it('null: within 0.3 degrees, and every ghost', async () => {
    const record = nullSearch.parse(await runNamed('null'));
    if (record.outcome === 'refused') throw new Error(record.refusal.message);
    const exact = truth.further!.null_series!;
    expectTrue(record.null_deg!, exact.null_deg, 'null');
    expect(Math.abs(record.null_deg!.value - exact.null_deg.value)).toBeLessThan(0.3);
    expect(Math.abs(exact.null_deg.value)).toBeGreaterThan(3);
    record.shots.forEach(({ leak_pct }, i) => {
      expectTrue(leak_pct, exact.shots[i]!.leak_pct, exact.shots[i]!.file);
    });
    expectTrue(record.least_leak_pct, exact.least_leak_pct, 'least ghost');
  });
});

function measuredEvenness(json: unknown): MeasuredEvennessRecord {
  const record = evenness.parse(json);
  if (record.outcome === 'refused') throw new Error(record.refusal.message);
  return record;
}

type Places = MeasuredEvennessRecord['pictures'][number]['of_centre_pct'];

function expectPlaces(
  { picture, of_centre_pct }: { readonly picture: string; readonly of_centre_pct: Places },
  exact: Readonly<Record<string, { readonly value: number }>>,
): void {
  for (const [place, measured] of Object.entries(of_centre_pct)) {
    expectTrue(measured, exact[place]!, `${picture} ${place}`);
    expect(Math.abs(measured.value / exact[place]!.value - 1), `${picture} ${place}`).toBeLessThan(0.02);
  }
}
