/** Moments of entries as the list shows them: the time that the wall had where it was kept. */

/** "14 Mar 2026, 18:26". */
export function wordMoment(iso: string): string {
  const [, year, month, day, time] = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}:\d{2})/.exec(iso) ?? [];
  if (year === undefined) return iso;
  return `${Number(day)} ${MONTHS[Number(month) - 1]} ${year}, ${time}`;
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
