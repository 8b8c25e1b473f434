/**
 * The command as a person types it, and what holds of every run. It runs in this process, which spares each case the start
 * of a program; `runBuilt` starts the built one, and cases in refusals.test.ts hold both to the same bytes.
 */
import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import { findPackage } from '../../src/storage/find-package.ts';
import { type MeasuredReading, type RefusedReading, reading as readingSchema } from '../../src/record/reading.ts';
import { TERM_FIELDS, type TermField } from '../../src/record/term-fields.ts';
import { runCommandLine } from '../../src/shells/command/command-line.ts';
import type { LensRole } from '../../src/record/roles.ts';

const COMMAND = fileURLToPath(new URL('../../out/node/twinplumb.js', import.meta.url));

export interface Run {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs in an empty folder of its own, and sees to it that nothing is written there, beside the photographs or into them. */
export function run(words: readonly string[], photographs: readonly string[] = []): Promise<Run> {
  return leavingAllAsItWas(photographs, async (place) => {
    const before = process.cwd();
    process.chdir(place);
    try {
      let [stdout, stderr] = ['', ''];
      const status = await runCommandLine(
        words,
        {
          print: (text) => {
            stdout += text;
          },
          remark: (text) => {
            stderr += text;
          },
          trace: false,
        },
        findPackage(),
      );
      return { status, stdout, stderr };
    } finally {
      process.chdir(before);
    }
  });
}

/** The same by a process of its own. */
export function runBuilt(words: readonly string[], photographs: readonly string[] = []): Promise<Run> {
  if (!existsSync(COMMAND)) throw new Error('the command is not built: npm run build');
  return leavingAllAsItWas(
    photographs,
    (cwd) =>
      new Promise<Run>((resolve) => {
        execFile(process.execPath, [COMMAND, ...words], { cwd }, (error, stdout, stderr) => {
          resolve({ status: error === null ? 0 : Number(error.code), stdout, stderr });
        });
      }),
  );
}

async function leavingAllAsItWas(photographs: readonly string[], work: (place: string) => Promise<Run>): Promise<Run> {
  const place = mkdtempSync(join(tmpdir(), 'twinplumb-run-'));
  const look = () => photographs.map((path) => [fingerprint(path), listing(dirname(path))]);
  const before = look();
  try {
    const result = await work(place);
    expect(readdirSync(place)).toEqual([]);
    expect(look()).toEqual(before);
    return result;
  } finally {
    rmSync(place, { recursive: true });
  }
}

function fingerprint(path: string): string {
  if (!existsSync(path) || !statSync(path).isFile()) return 'no file';
  try {
    return createHash('sha256').update(readFileSync(path)).digest('hex');
  } catch {
    return 'not readable';
  }
}

function listing(folder: string): string[] {
  return existsSync(folder) ? readdirSync(folder) : [];
}

export function runMeasure(left: string, right: string, ...options: readonly string[]): Promise<Run> {
  return run(['measure', '--left', left, '--right', right, ...options], [left, right]);
}

/** One object on one line, and nothing else anywhere. */
export async function measure(left: string, right: string, ...options: readonly string[]) {
  const { status, stdout, stderr } = await runMeasure(left, right, '--json', ...options);
  expect(stderr).toBe('');
  expect(stdout.indexOf('\n')).toBe(stdout.length - 1);
  const reading = readingSchema.parse(JSON.parse(stdout));
  expect(status).toBe(reading.outcome === 'measured' ? 0 : 2);
  return reading;
}

/** One sentence: begins with a capital, and the only full stop that ends one is its last character. */
const ONE_SENTENCE = /^[A-Z`][^.!?]*(?:[.](?=\S)[^.!?]*)*\.$/;

export async function expectRefusal(
  left: string,
  right: string,
  code: string,
  shot: LensRole | null,
  ...options: readonly string[]
): Promise<RefusedReading['refusal']> {
  const reading = await measure(left, right, ...options);
  if (reading.outcome === 'measured') throw new Error(`measured, not refused: ${JSON.stringify(reading.misalignment)}`);
  const { refusal } = reading;
  expect([refusal.code, refusal.shot]).toEqual([code, shot]);
  expect(refusal.message).toMatch(ONE_SENTENCE);
  expect(refusal.remedy).toMatch(ONE_SENTENCE);
  expect(`${refusal.message}${refusal.remedy}`).not.toMatch(/undefined|NaN|null|Infinity/);
  return refusal;
}

export async function expectMeasured(
  left: string,
  right: string,
  ...options: readonly string[]
): Promise<MeasuredReading> {
  const reading = await measure(left, right, ...options);
  if (reading.outcome === 'refused') throw new Error(`refused: ${JSON.stringify(reading.refusal)}`);
  return reading;
}

const MOST_UNCERTAINTIES = 5;
const MOST_ERROR_PCT = 0.02;

type Truth = Readonly<Record<TermField, number>>;

/** No term is off by more than five standard uncertainties, nor by more than 0.02 % of the picture height. */
export function expectTrue(reading: MeasuredReading, truth: Truth): void {
  expectWithinUncertainty(reading, truth);
  expect(largestErrorPct(reading, truth)).toBeLessThan(MOST_ERROR_PCT);
}

export function expectWithinUncertainty({ misalignment }: MeasuredReading, truth: Truth): void {
  for (const field of TERM_FIELDS) {
    const { value, u } = misalignment[field];
    const error = Math.abs(value - truth[field]);
    expect(error, `${field}: ${value} ± ${u}, truly ${truth[field]}`).toBeLessThan(MOST_UNCERTAINTIES * u);
  }
}

/** A rotation counts as the displacement at a distance of one picture height. */
export function largestErrorPct({ misalignment }: MeasuredReading, truth: Truth): number {
  return Math.max(
    ...TERM_FIELDS.map((field) => {
      const error = Math.abs(misalignment[field].value - truth[field]);
      return field === 'rotation_deg' ? (100 * error * Math.PI) / 180 : error;
    }),
  );
}

export function warningsOf({ warnings }: MeasuredReading): string[] {
  return warnings.map(({ code }) => code).filter((code) => code !== 'house-assumed');
}
