/** Moments as lists show them, on every screen alike. */

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** "14 Mar 2026, 18:26": the time that the wall had where the moment was written down. */
export function formatDateTime(iso: string): string {
  const [, year, month, day, time] = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}:\d{2})/.exec(iso) ?? [];
  if (year === undefined) return iso;
  return `${Number(day)} ${MONTHS[Number(month) - 1]} ${year}, ${time}`;
}

/** The same, by the clock of this machine. */
export function formatLocalDateTime(iso: string): string {
  const at = new Date(iso);
  const time = [at.getHours(), at.getMinutes()].map((part) => String(part).padStart(2, '0')).join(':');
  return `${at.getDate()} ${MONTHS[at.getMonth()]} ${at.getFullYear()}, ${time}`;
}
