/** The work that is going on, with a way to stop it. It appears only when it takes long enough to be noticed. */
import type { Job, Workspace } from '../../../contract/workspace.ts';
import { isMessageKey, translate } from '../../../wording/translate.ts';
import type { Host } from '../host/host.ts';
import { Progress } from '../parts/notice.tsx';

export function RunningJob({ host, job }: { readonly host: Host; readonly job: Job | undefined }) {
  return (
    <div className="frame-job">
      {job && (
        <div key={job.id} className="frame-job-line">
          <Progress
            label={formatJob(job)}
            fraction={job.fraction}
            onCancel={() => void host.call('job.cancel', { job: job.id })}
          />
        </div>
      )}
    </div>
  );
}

/** The work that is going on, in words. */

/** The job to show: a measurement before examinations. */
export function findRunningJob({ jobs }: Workspace): Job | undefined {
  const running = jobs.filter(({ state }) => state === 'running' || state === 'waiting');
  return running.find(({ kind }) => kind === 'measure') ?? running[0];
}

/** What a job is doing, in words; its kind where its stage has none. */
export function formatJob({ kind, stage }: Job): string {
  const key = `frame.stage-${stage}`;
  return isMessageKey(key) ? translate(key) : translate(`frame.job-${kind}`);
}
