/** Work on many requests in child processes: each gets the next request when it has answered. */
import { type ChildProcess, fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** A function that each child process calls: the module that exports it, and its name there. */
export interface ParallelTask {
  readonly module: URL;
  readonly run: string;
}

/** Results in the order of the requests. */
export async function runParallel<Request, Result>(
  task: ParallelTask,
  requests: readonly Request[],
  jobs: number,
  onResult: (result: Result, done: number) => void,
): Promise<Result[]> {
  const results = new Array<Result>(requests.length);
  let next = 0;
  let done = 0;
  const work = (worker: ChildProcess) =>
    new Promise<void>((resolve, reject) => {
      let current = -1;
      const give = () => {
        if (next >= requests.length) {
          worker.disconnect();
          resolve();
          return;
        }
        current = next++;
        worker.send(requests[current] as object);
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
  const own = fileURLToPath(import.meta.url);
  const workers = Array.from({ length: Math.min(jobs, requests.length) }, () =>
    fork(own, [task.module.href, task.run]),
  );
  try {
    await Promise.all(workers.map(work));
  } finally {
    for (const worker of workers) if (worker.connected) worker.kill();
  }
  return results;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await answerRequests(process.argv[2]!, process.argv[3]!);

/** The child process. */
async function answerRequests(module: string, name: string): Promise<void> {
  // A request may come before the module is there.
  const run = import(module).then((exports) => exports[name] as (request: unknown) => Promise<unknown>);
  process.on('disconnect', () => process.exit());
  process.on('message', (request) => {
    run
      .then((answer) => answer(request))
      .then(
        (result) => process.send!(result),
        (error: unknown) => {
          console.error(error);
          process.exit(1);
        },
      );
  });
}
