/** The worker's entry: waits for jobs of the host and does them one by one. */
import { parentPort } from 'node:worker_threads';
import { type JobKind, type JobResult, runJob } from './jobs.ts';
import { type Fault, type JobMessage, memoryOf, type WorkerMessage } from './worker-link.ts';

if (!parentPort) throw new Error('the engine’s worker runs as a worker thread only');
const port = parentPort;
const send = (message: WorkerMessage, handOver: readonly ArrayBuffer[] = []) =>
  port.postMessage(message, [...handOver]);

port.on('message', async ({ job, kind, request }: JobMessage) => {
  try {
    const report = (stage: string, fraction: number) => send({ type: 'progress', job, stage, fraction });
    const result: JobResult<JobKind> = await runJob(kind, request, report);
    send({ type: 'done', job, result }, memoryOf(result));
  } catch (error) {
    send({ type: 'failed', job, fault: describeFault(error) });
  }
});
send({ type: 'ready' });

/** Pictures lie outside the limited part of memory; where there is none left for one the array cannot be made. */
function describeFault(error: unknown): Fault {
  const { message, stack } = error instanceof Error ? error : new Error(String(error));
  const isMemory = error instanceof RangeError && /allocation failed|invalid array length/i.test(message);
  return { message, stack: stack ?? message, isMemory };
}
