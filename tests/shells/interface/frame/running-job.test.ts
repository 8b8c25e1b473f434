import { describe, expect, it } from 'vitest';
import type { Job, Workspace } from '../../../../src/contract/workspace.ts';
import { EXAMINING, MEASURING } from '../../../../src/engine/jobs.ts';
import { findRunningJob, formatJob } from '../../../../src/shells/interface/frame/running-job.tsx';
import { isMessageKey } from '../../../../src/wording/translate.ts';

const job = (id: number, kind: Job['kind'], state: Job['state']): Job => ({
  id,
  kind,
  stage: 'no such stage',
  fraction: 0.5,
  state,
  failure: null,
});
const withJobs = (...jobs: Job[]) => ({ jobs }) as unknown as Workspace;

describe('the work that is going on', () => {
  it('is the measurement where there is one', () => {
    const jobs = withJobs(job(1, 'examine', 'running'), job(2, 'measure', 'waiting'));
    expect(findRunningJob(jobs)?.id).toBe(2);
  });

  it('is nothing when everything is done, failed or cancelled', () => {
    const jobs = withJobs(job(1, 'examine', 'done'), job(2, 'measure', 'failed'), job(3, 'measure', 'cancelled'));
    expect(findRunningJob(jobs)).toBeUndefined();
  });

  it('has words for every stage of the engine', () => {
    const stages = [...Object.keys(EXAMINING), ...Object.keys(MEASURING), 'waiting'];
    expect(stages.filter((stage) => !isMessageKey(`frame.stage-${stage}`))).toEqual([]);
    expect(formatJob({ ...job(1, 'measure', 'running'), stage: 'looking' })).toBe('Finding the marks');
  });

  it('is named by its kind where its stage has no words', () => {
    expect(formatJob(job(1, 'measure', 'running'))).toBe('Measuring');
    expect(formatJob(job(1, 'examine', 'running'))).toBe('Checking the photograph');
  });
});
