import { spawn } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import { EMPTY_STATE, readState, StateWriter, timeInName } from '../../src/workspace/stored-state.ts';
import { buildProgram } from '../build-program.ts';
import { makeFolder, openBench } from './open-in-folder.ts';

const at = new Date('2026-03-14T18:05:09.123Z');

describe('the state on disk', () => {
  it('is empty where there is none, and comes back as it was written', async () => {
    const folder = makeFolder();
    expect(await readState(folder, at)).toEqual({ state: EMPTY_STATE, notices: [] });
    const state = { ...EMPTY_STATE, revision: 7, aspect: 1.85 };
    await new StateWriter(folder).write(state);
    expect(await readState(folder, at)).toEqual({ state, notices: [] });
    expect(readdirSync(folder)).toEqual(['workspace.json']);
  });

  it('takes settings of an earlier program, and those that came later by their defaults', async () => {
    const folder = makeFolder();
    const { sound: _, ...settings } = EMPTY_STATE.settings;
    await new StateWriter(folder).write({ ...EMPTY_STATE, settings: { ...settings, theme: 'light' } as never });
    expect((await readState(folder, at)).state.settings).toEqual({ ...EMPTY_STATE.settings, theme: 'light' });
  });

  it('is written in order, many changes together, and everybody is told when theirs is there', async () => {
    const folder = makeFolder();
    const writer = new StateWriter(folder);
    const seen: number[] = [];
    await Promise.all(
      Array.from({ length: 200 }, async (_, revision) => {
        await writer.write({ ...EMPTY_STATE, revision });
        const onDisk = (await readState(folder, at)).state.revision;
        expect(onDisk).toBeGreaterThanOrEqual(revision);
        seen.push(onDisk);
      }),
    );
    expect(seen).toHaveLength(200);
  });

  it('goes on after a write that failed', async () => {
    const folder = join(makeFolder(), 'gone');
    const writer = new StateWriter(join(folder, 'x\0y'));
    await expect(writer.write(EMPTY_STATE)).rejects.toThrow();
    await expect(writer.write(EMPTY_STATE)).rejects.toThrow();
  });

  it('stands in names of files with its time', () => expect(timeInName(at)).toBe('2026-03-14T18-05-09Z'));
});

describe('a program that is killed in the middle', () => {
  const random = createRandom(20260314);
  const runAndKill = (program: string, folder: string, after_ms: number) =>
    new Promise<{ photograph: number; aspect: number }>((resolve, reject) => {
      const child = spawn(process.execPath, [program, folder], { stdio: ['ignore', 'pipe', 'inherit'] });
      let acknowledged = '';
      child.stdout.on('data', (text) => {
        if (acknowledged === '') setTimeout(() => child.kill('SIGKILL'), after_ms);
        acknowledged += text;
      });
      child.on('error', reject);
      const last = (kind: string) =>
        Math.max(
          0,
          ...[...acknowledged.matchAll(new RegExp(`^${kind} (\\d+)\n`, 'gm'))].map(([, step]) => Number(step)),
        );
      child.on('close', () => resolve({ photograph: last('photograph'), aspect: last('aspect') }));
    });

  it('leaves a readable state, never older than what it had acknowledged, and its lock does not hold others off', async () => {
    const folder = makeFolder();
    const program = await buildProgram('tests/workspace/keep-changing.ts');
    onTestFinished(() => rmSync(program));
    for (let run = 0; run < 12; run++) {
      const acknowledged = await runAndKill(program, folder, random.between(1, 60));
      expect(acknowledged.photograph).toBeGreaterThan(0);
      const { state, notices } = await readState(folder, at);
      expect(notices).toEqual([]);
      const [shot] = state.shots;
      expect(Number.parseInt(shot!.name, 10)).toBeGreaterThanOrEqual(acknowledged.photograph);
      expect(Math.round((state.aspect - 1.5) * 1e6)).toBeGreaterThanOrEqual(acknowledged.aspect);
      expect(existsSync(join(folder, 'photographs', `${shot!.sha256}.jpg`))).toBe(true);
      expect(existsSync(join(folder, 'in-use.lock'))).toBe(true);
    }
    const { now } = await openBench(folder);
    expect(now()).toMatchObject({ notices: [], shots: [{ slot: 'left-lens' }] });
    expect(readFileSync(join(folder, 'workspace.json'), 'utf8')).toMatch(/\}\n$/);
    rmSync(join(folder, 'photographs'), { recursive: true });
  });
});
