/** Moments as people read them. */
import { openTopic } from './catalogue.ts';
import messages from './en/date-time.json' with { type: 'json' };

const { translate, translateCode } = openTopic(messages);

/** "14 Mar 2026, 18:26": the time that the wall had where the moment was written down. For lists. */
export function formatDateTime(iso: string): string {
  const [, year, month, day, time] = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}:\d{2})/.exec(iso) ?? [];
  return year === undefined ? iso : put(Number(day), Number(month), Number(year), time!);
}

/** The same, by the clock of this machine. */
export function formatLocalDateTime(iso: string): string {
  const at = new Date(iso);
  const time = [at.getHours(), at.getMinutes()].map((part) => String(part).padStart(2, '0')).join(':');
  return put(at.getDate(), at.getMonth() + 1, at.getFullYear(), time);
}

function put(day: number, month: number, year: number, time: string): string {
  return translate('list', { day, month: translateCode(`month.${month}`), year, time });
}

/** For reports: "2026-03-14 18:26:53, UTC+01:00"; "… UTC" where there is no difference to universal time. */
export function formatMoment(iso: string): string {
  const [, day, time, zone] = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2}:\d{2})[^Z+-]*(Z|[+-]\d{2}:\d{2})$/.exec(iso) ?? [];
  if (day === undefined) return iso;
  return zone === 'Z' || zone === '+00:00'
    ? translate('universal', { day, time })
    : translate('moment', { day, time, zone: zone!.replace('-', '−') });
}

/** "14 Mar 2026, 18:26" of a camera's "2026:03:14 18:26:53"; its clock knows no zone. */
export function formatCameraTime(text: string): string {
  return formatDateTime(text.replace(/^(\d{4}):(\d{2}):(\d{2}) /, '$1-$2-$3T'));
}
