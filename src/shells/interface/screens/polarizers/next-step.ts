/** What a null search or the ports want next, as the one thing to say; worded by the screen. */
import type { Polarizers } from '../../../../contract/polarizers.ts';
import type { Workspace } from '../../../../contract/workspace.ts';
import type { FoundNullSearch, NullSearchRecord } from '../../../../record/null-search.ts';
import type { PortShotsRecord } from '../../../../record/port-shots.ts';

/** Fewest photographs that a curve goes through. */
const MIN_SHOTS = { turns: 3, steps: 4 } as const;

type Refused<T> = Extract<T, { outcome: 'refused' }>;

export type NullStep =
  | { readonly step: 'reference' | 'series' | 'turns' | 'ready' | 'finding' }
  | { readonly step: 'more'; readonly count: number; readonly needed: number }
  | { readonly step: 'found'; readonly search: FoundNullSearch }
  | { readonly step: 'refused'; readonly search: Refused<NullSearchRecord> };

export function findNullStep(
  { setting, reference, series, null_search }: Polarizers,
  jobs: Workspace['jobs'],
): NullStep {
  if (isUnderWay(jobs, 'null-search')) return { step: 'finding' };
  if (null_search) {
    return null_search.outcome === 'found'
      ? { step: 'found', search: null_search }
      : { step: 'refused', search: null_search };
  }
  if (reference === null) return { step: 'reference' };
  if (series.length === 0) return { step: 'series' };
  const needed = MIN_SHOTS[setting.counted];
  if (series.length < needed) return { step: 'more', count: series.length, needed };
  const isTold = setting.counted === 'steps' || series.every(({ turn_deg }) => turn_deg !== null);
  return { step: isTold ? 'ready' : 'turns' };
}

export type PortsStep =
  | { readonly step: 'both' | 'left' | 'right' | 'ready' | 'comparing' }
  | { readonly step: 'told'; readonly shots: Extract<PortShotsRecord, { outcome: 'compared' }> }
  | { readonly step: 'refused'; readonly shots: Refused<PortShotsRecord> };

export function findPortsStep({ ports, port_shots }: Polarizers, jobs: Workspace['jobs']): PortsStep {
  if (isUnderWay(jobs, 'port-shots')) return { step: 'comparing' };
  if (port_shots) {
    return port_shots.outcome === 'compared'
      ? { step: 'told', shots: port_shots }
      : { step: 'refused', shots: port_shots };
  }
  if (ports.left && ports.right) return { step: 'ready' };
  if (!ports.left && !ports.right) return { step: 'both' };
  return { step: ports.left ? 'right' : 'left' };
}

function isUnderWay(jobs: Workspace['jobs'], kind: 'null-search' | 'port-shots'): boolean {
  return jobs.some((job) => job.kind === kind && (job.state === 'running' || job.state === 'waiting'));
}

/** A turn as somebody types it: a number with its sign, degrees; null where nothing stands there yet. */
const MAX_DEG = 360;

export function readTurn(text: string): number | null | 'wrong' {
  const plain = text
    .trim()
    .replace(/[\u2212\u2013]/g, '-')
    .replace(',', '.')
    .replace(/\s*°$/, '');
  if (plain === '') return null;
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain)) return 'wrong';
  const turn = Number(plain);
  return Math.abs(turn) <= MAX_DEG ? turn : 'wrong';
}
