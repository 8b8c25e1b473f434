/** Runs a Node program to its end: wall time from start to exit, the processor time it took and the most memory that it held. */
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';

export interface ProcessRun {
  readonly seconds: number;
  /** User and system time of all threads: what other work on the machine changes least. */
  readonly cpu_s: number;
  readonly peak_mb: number;
}

/**
 * Written by the program itself as it ends. Linux says in VmHWM what this program alone held; the resource usage of a
 * child, which other systems offer, may still carry what its parent held when it was forked.
 */
const REPORT_USAGE = `data:text/javascript,${encodeURIComponent(`
import { readFileSync, writeFileSync } from 'node:fs';
process.on('exit', () => {
  let peak = process.resourceUsage().maxRSS;
  try { peak = Number(/VmHWM:\\s+(\\d+)/.exec(readFileSync('/proc/self/status', 'utf8'))[1]); } catch {}
  const { user, system } = process.cpuUsage();
  writeFileSync(process.env.BENCH_USAGE_FILE, JSON.stringify({ peak_kib: peak, cpu_us: user + system }));
});`)}`;

/** `args` as for node itself; `under`: a command that runs it. Throws when the program does not end with status 0. */
export async function runProcess(
  args: readonly string[],
  cwd: string,
  usageFile: string,
  under: readonly string[] = [],
): Promise<ProcessRun> {
  const started = performance.now();
  const [command, ...words] = [...under, process.execPath, '--import', REPORT_USAGE, ...args] as [string, ...string[]];
  const program = spawn(command, words, {
    cwd,
    env: { ...process.env, NODE_OPTIONS: '', BENCH_USAGE_FILE: usageFile },
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const status = await new Promise<number | null>((resolve, reject) => {
    program.on('error', reject);
    program.on('exit', resolve);
  });
  const seconds = (performance.now() - started) / 1000;
  if (status !== 0) throw new Error(`node ${args.join(' ')} ended with status ${status}`);
  const { peak_kib, cpu_us } = JSON.parse(readFileSync(usageFile, 'utf8')) as { peak_kib: number; cpu_us: number };
  return { seconds, cpu_s: cpu_us / 1e6, peak_mb: (peak_kib * 1024) / 1e6 };
}
