/** The work that is going on, with a way to stop it. It appears only when it takes long enough to be noticed. */
import type { Job } from '../../../contract/workspace.ts';
import type { Host } from '../host/host.ts';
import { Progress } from '../parts/progress.tsx';
import { formatJob } from './jobs.ts';

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
