/** A workspace in a folder of its own, with an engine that stands in, and how to wait for what becomes of it. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished } from 'vitest';
import type { Outcome } from '../../src/contract/failures.ts';
import { type Workspace, workspace as workspaceSchema } from '../../src/contract/workspace.ts';
import { refuse } from '../../src/kernel/refusal.ts';
import { openWorkspace } from '../../src/workspace/open-workspace.ts';
import type { Work } from '../../src/workspace/work.ts';
import { jpeg } from './jpeg.ts';
import { StandInEngine } from './stand-in-engine.ts';

export interface Bench {
  readonly folder: string;
  readonly engine: StandInEngine;
  readonly work: Work;
  readonly faults: unknown[];
  readonly now: () => Workspace;
  /** Waits for a state of the workspace. */
  readonly until: (isReached: (workspace: Workspace) => boolean) => Promise<Workspace>;
  readonly call: (name: string, input?: unknown) => Promise<Workspace>;
}

/** Before the test's own end, so that it can say what it waited for. */
const PATIENCE_MS = 120_000;

/** For as long as the test runs. */
export function makeFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'workspace-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export function requireValue<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`${outcome.failure.code}: ${outcome.failure.message}`);
  return outcome.value;
}

export function codeOf(outcome: Outcome<unknown>): string {
  if (outcome.ok) return 'ok';
  expect(outcome.failure.message).toMatch(/^[A-Z0-9`].*\.$/);
  expect(outcome.failure.remedy).toMatch(/^[A-Z0-9`].*\.$/);
  return outcome.failure.code;
}

export async function openBench(folder = makeFolder(), engine = new StandInEngine()): Promise<Bench> {
  const faults: unknown[] = [];
  let minute = 0;
  const work = requireValue(
    await openWorkspace({
      folder,
      engine,
      softwareVersion: '1.2.3',
      printPdf: async () => refuse('no-printer'),
      now: () => new Date(Date.UTC(2026, 2, 14, 18, minute++)),
      onFault: (fault) => faults.push(fault),
    }),
  );
  onTestFinished(() => work.close());
  let current: Workspace | undefined;
  const waiting = new Set<() => void>();
  work.subscribe((event) => {
    if (event.type !== 'workspace') return;
    // Whatever a page is shown is as the contract says.
    current = workspaceSchema.parse(event.workspace);
    for (const look of waiting) look();
  });
  const until: Bench['until'] = (isReached) =>
    new Promise((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error(`never reached: ${JSON.stringify(current)}`)), PATIENCE_MS);
      const look = () => {
        if (!current || !isReached(current)) return;
        clearTimeout(timer);
        waiting.delete(look);
        resolve(current);
      };
      waiting.add(look);
      look();
    });
  const call = async (name: string, input: unknown = {}) => requireValue(await work.call(name, input)) as Workspace;
  return { folder, engine, work, faults, now: () => current!, until, call };
}

export async function addPair({ work, until }: Bench, content = ''): Promise<Workspace> {
  requireValue(await work.addPhotograph({ set: 'shots', role: 'left-lens' }, 'left.jpg', jpeg(`left${content}`)));
  requireValue(await work.addPhotograph({ set: 'shots', role: 'right-lens' }, 'right.jpg', jpeg(`right${content}`)));
  return until(({ shots }) => shots.length >= 2 && shots.every(({ examination }) => examination !== null));
}

export async function measureRound(bench: Bench): Promise<Workspace> {
  const before = bench.now().rounds.length;
  requireValue(await bench.work.call('measure.start', {}));
  return bench.until(({ rounds, jobs }) => rounds.length > before && jobs.every(({ state }) => state !== 'running'));
}
