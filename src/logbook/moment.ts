/** A moment as records have it: the time on the wall with its difference to universal time, and the zone's name. */
export interface Moment {
  readonly saved_at: string;
  readonly zone: string | null;
}

/** `offset_min`: wall minus universal time; the system's own where it is left out. */
export function describeMoment(at: Date, offset_min = -at.getTimezoneOffset()): Moment {
  const wall = new Date(at.getTime() + offset_min * 60_000).toISOString().slice(0, -1);
  const amount = Math.abs(offset_min);
  const two = (n: number) => String(n).padStart(2, '0');
  const sign = offset_min < 0 ? '-' : '+';
  return {
    saved_at: `${wall}${sign}${two(Math.floor(amount / 60))}:${two(amount % 60)}`,
    zone: Intl.DateTimeFormat().resolvedOptions().timeZone ?? null,
  };
}
