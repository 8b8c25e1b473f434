/** Shares orders out among child processes; each gets the next one when it has answered. Results in the order of the orders. */
import { type ChildProcess, fork } from 'node:child_process';

export async function shareOut<Order, Result>(
  workerPath: string,
  orders: readonly Order[],
  jobs: number,
  onResult: (result: Result, done: number) => void,
): Promise<Result[]> {
  const results = new Array<Result>(orders.length);
  let next = 0;
  let done = 0;
  const work = (worker: ChildProcess) =>
    new Promise<void>((resolve, reject) => {
      let current = -1;
      const give = () => {
        if (next >= orders.length) {
          worker.disconnect();
          resolve();
          return;
        }
        current = next++;
        worker.send(orders[current] as object);
      };
      worker.on('message', (result: Result) => {
        results[current] = result;
        onResult(result, ++done);
        give();
      });
      worker.on('error', reject);
      worker.on('exit', (code) => (code === 0 ? resolve() : reject(new Error(`a worker ended with status ${code}`))));
      give();
    });
  const workers = Array.from({ length: Math.min(jobs, orders.length) }, () => fork(workerPath));
  try {
    await Promise.all(workers.map(work));
  } finally {
    for (const worker of workers) if (worker.connected) worker.kill();
  }
  return results;
}
