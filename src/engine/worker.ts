/** The worker's entry: waits for jobs of the host and does them one by one. */
import { parentPort } from 'node:worker_threads';
import { doJob, memoryOf } from './do-job.ts';
import type { Fault, JobMessage, WorkerMessage } from './jobs.ts';

if (!parentPort) throw new Error('the engine’s worker runs as a worker thread only');
const port = parentPort;
const send = (message: WorkerMessage, handOver: readonly ArrayBuffer[] = []) =>
  port.postMessage(message, [...handOver]);

port.on('message', async ({ job, work }: JobMessage) => {
  try {
    const answer = await doJob(work, (stage, fraction) => send({ type: 'progress', job, stage, fraction }));
    send({ type: 'done', job, answer }, memoryOf(answer));
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
