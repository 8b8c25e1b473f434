/** The stand-in host's photographs and measurements: they are taken in and "measured" without being looked at. */
import { createHash } from 'node:crypto';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import type { Examination, Shot } from '../../src/contract/shots.ts';
import type { Job, Workspace } from '../../src/contract/workspace.ts';
import type { Staged } from './situations.ts';
import type { ShotSlot } from '../../src/record/roles.ts';

const FOLDER = mkdtempSync(join(tmpdir(), 'stand-in-'));
const EXAMINING_MS = 250;
const STEP_MS = 150;

export type Change = (to: Partial<Workspace>) => unknown;

/** Keeps the photograph, shows it at once, and finds it good a little later. */
export async function takeShot(staged: Staged, change: Change, slot: ShotSlot, name: string, bytes: Buffer) {
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const path = join(FOLDER, sha256);
  writeFileSync(path, bytes);
  staged.photographs.set(sha256, path);
  const { width, height } = await sharp(bytes).metadata();
  const shot: Shot = {
    slot,
    name,
    sha256,
    bytes: bytes.length,
    width_px: width,
    height_px: height,
    source: 'file',
    frames: null,
    added_at: new Date().toISOString(),
    examination: null,
  };
  const examine = (each: Shot) => (each.sha256 === sha256 ? { ...each, examination: found(each.slot) } : each);
  setTimeout(() => change({ shots: staged.workspace.shots.map(examine) }), EXAMINING_MS);
  return change({ shots: [...staged.workspace.shots.filter((each) => each.slot !== slot), shot] });
}

const found = (slot: ShotSlot): Examination => ({
  outcome: 'usable',
  code: 'good',
  message: 'Good: sharp and evenly lit.',
  remedy: null,
  shows: slot === 'right-lens' ? 'right' : 'left',
  leak_pct: 1.2,
  blur_px: 1.1,
  clipped_pct: 0,
  brightest: 0.8,
  marks: [],
  expected: 48,
});

export function exchangeShots(staged: Staged, change: Change) {
  const other = { 'left-lens': 'right-lens', 'right-lens': 'left-lens', closing: 'closing', bare: 'bare' } as const;
  return change({ shots: staged.workspace.shots.map((shot) => ({ ...shot, slot: other[shot.slot] })) });
}

/** A job that runs through its stages in about a second, if it is not cancelled. */
export function startMeasuring(staged: Staged, change: Change) {
  const id = 1 + Math.max(0, ...staged.workspace.jobs.map((job) => job.id));
  const set = (job: Partial<Job>) => {
    const jobs = staged.workspace.jobs.map((each) => (each.id === id ? { ...each, ...job } : each));
    change({ jobs });
  };
  const job: Job = { id, kind: 'measure', stage: 'looking', fraction: 0, state: 'running', failure: null };
  change({ jobs: [...staged.workspace.jobs, job] });
  let fraction = 0;
  const timer = setInterval(() => {
    if (staged.workspace.jobs.find((each) => each.id === id)?.state !== 'running') return clearInterval(timer);
    fraction += 0.15;
    if (fraction < 1) return set({ fraction });
    clearInterval(timer);
    set({ fraction: 1, state: 'done' });
  }, STEP_MS);
  return { ok: true, value: { job: id } };
}

export function cancelJob(staged: Staged, change: Change, id: number) {
  return change({
    jobs: staged.workspace.jobs.map((job) => (job.id === id ? { ...job, state: 'cancelled' as const } : job)),
  });
}
