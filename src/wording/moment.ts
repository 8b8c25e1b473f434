/** A moment as people read it: the time on the wall there, and its difference to universal time. */

/** "2026-03-14 18:26:53, UTC+01:00"; "… UTC" where there is no difference. */
export function formatMoment(iso: string): string {
  const [, day, time, zone] = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2}:\d{2})[^Z+-]*(Z|[+-]\d{2}:\d{2})$/.exec(iso) ?? [];
  if (day === undefined) return iso;
  return `${day} ${time}${zone === 'Z' || zone === '+00:00' ? ' UTC' : `, UTC${zone!.replace('-', '−')}`}`;
}
