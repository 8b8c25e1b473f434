/** The work that is going on, in words. */
import type { Job, Workspace } from '../../../contract/workspace.ts';
import { isMessageKey, translate } from '../../../wording/translate.ts';

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
