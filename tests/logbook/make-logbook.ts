/** A logbook in a folder of its own, and entries to put into it. */
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished } from 'vitest';
import type { Logbook, NewEntry } from '../../src/logbook/logbook.ts';
import { openLogbook } from '../../src/logbook/open-logbook.ts';
import type { LogbookOptions } from '../../src/logbook/opened-logbook.ts';
import type { House } from '../../src/record/house.ts';
import { houseSchema } from '../../src/record/house.ts';
import type { Measured } from '../../src/kernel/measured.ts';
import type { MeasuredReading } from '../../src/record/reading.ts';
import { sampleReading } from '../report/sample-reading.ts';
import { jpeg } from '../workspace/jpeg.ts';

/** For as long as the test runs. */
export function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'logbook-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export async function openAt(folder: string, order: Partial<LogbookOptions> = {}): Promise<Logbook> {
  const opening = await openLogbook({ folder, create: true, softwareVersion: '0.1.0', ...order });
  if (opening.outcome === 'refused') throw new Error(`${opening.code} ${JSON.stringify(opening.facts)}`);
  return opening.logbook;
}

/** A clock that goes on by an hour each time it is looked at. */
export function clock(start = '2026-03-14T18:00:00Z'): () => Date {
  let at = Date.parse(start);
  return () => {
    at += 3_600_000;
    return new Date(at);
  };
}

export const meridian: House = houseSchema.parse({
  schema: 'twinplumb.house/1',
  name: 'The Meridian',
  screen: { picture_width_m: 10.4 },
  throw_m: 27,
  seats: { nearest_row_m: 6.5, reference_seat_m: 15 },
  film: { centre_to_centre_in: 0.375 },
});

/** Two photographs on disk, and the reading that was made from them. */
export function newEntry(folder: string, mark: string, change: Partial<MeasuredReading> = {}): NewEntry {
  const shots = (['left', 'right'] as const).map((side) => {
    const bytes = jpeg(`${side} ${mark}`);
    const path = join(folder, `${side}-${mark}.jpg`);
    writeFileSync(path, bytes);
    return { side, path, sha256: createHash('sha256').update(bytes).digest('hex') };
  });
  return {
    operator: 'Ann',
    print: 'The Long Reel',
    reel: '1',
    house: meridian,
    shots: shots.map(({ side, path }) => ({ role: `${side}-lens`, path, name: `${side}-${mark}.jpg` })),
    reading: {
      ...sampleReading,
      shots: shots.map(({ side, sha256 }, index) => ({
        ...sampleReading.shots[index]!,
        role: `${side}-lens` as const,
        sha256,
      })),
      ...change,
    },
  };
}

export async function keep(logbook: Logbook, entry: NewEntry): Promise<string> {
  const kept = await logbook.add(entry);
  if (kept.outcome === 'refused') throw new Error(`${kept.code} ${JSON.stringify(kept.facts)}`);
  expect(kept.id).toMatch(/^[0-9a-f]{64}$/);
  return kept.id;
}

/** The sample with other values of some terms. */
export function withTerms(
  values: Partial<Record<keyof MeasuredReading['misalignment'], number>>,
): Partial<MeasuredReading> {
  const misalignment = Object.fromEntries(
    Object.entries(sampleReading.misalignment as Record<string, Measured>).map(([field, measured]) => [
      field,
      { ...measured, value: values[field as keyof typeof values] ?? measured.value },
    ]),
  ) as MeasuredReading['misalignment'];
  return { misalignment };
}
