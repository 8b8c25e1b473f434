/** How far a batch is, as one line of a terminal: a bar, counts, and the time that is left at the pace so far. */
export interface BatchProgress {
  readonly done: number;
  readonly of: number;
  readonly refused: number;
  readonly failed: number;
  readonly elapsed_s: number;
}

const BAR = 24;

export function formatProgress({ done, of, refused, failed, elapsed_s }: BatchProgress): string {
  const filled = of === 0 ? BAR : Math.floor((BAR * done) / of);
  const bar = `${'#'.repeat(filled)}${'.'.repeat(BAR - filled)}`;
  const faults = [refused > 0 && `${refused} refused`, failed > 0 && `${failed} failed`].filter(Boolean).join(', ');
  const left = done === 0 || done === of ? '' : `, ${formatDuration((elapsed_s / done) * (of - done))} left`;
  return `[${bar}] ${done} of ${of}${faults && `, ${faults}`}${left}`;
}

export function formatDuration(seconds: number): string {
  const whole = Math.max(1, Math.round(seconds));
  if (whole < 100) return `${whole} s`;
  const minutes = Math.round(whole / 60);
  return minutes < 100 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}
