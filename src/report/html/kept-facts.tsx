/** What the logbook adds to a reading: who kept it, when and of which print, what it is linked with, and what was added later. */
import type { ReactNode } from 'react';
import type { Addition, Entry } from '../../record/entry.ts';
import { formatMoment } from '../../wording/date-time.ts';
import { translate } from '../../wording/translate.ts';
import { formatTurnMade } from '../../wording/turns.ts';
import { type Fact, Facts, Section } from './document.tsx';

export interface KeptEntry {
  readonly id: string;
  readonly entry: Entry;
  readonly additions: readonly { readonly id: string; readonly addition: Addition }[];
  readonly replacedBy: readonly string[];
  readonly followedBy: readonly string[];
}

export function Kept({ kept: { id, entry, additions, replacedBy, followedBy } }: { readonly kept: KeptEntry }) {
  const facts: Fact[] = [
    [translate('report.entry'), <code key="id">{id}</code>],
    [translate('report.kept'), describeMoment(entry)],
    ...factIf(translate('report.house'), entry.house?.name),
    ...factIf(
      translate('report.print'),
      [entry.print, entry.reel === null ? null : translate('report.reel-of', { reel: entry.reel })]
        .filter(Boolean)
        .join(', '),
    ),
    ...factIf(translate('report.operator'), entry.operator),
    ...factIf(translate('report.note'), entry.note),
    ...factIf(
      translate('report.turned-before'),
      entry.turns_made.map((turn) => formatTurnMade(turn, entry.house)).join('; '),
    ),
    ...factIf(translate('report.measured-after'), entry.follows && <code>{entry.follows}</code>),
    ...followedBy.map((other): Fact => [translate('report.measured-before'), <code key={other}>{other}</code>]),
    ...factIf(
      translate('report.corrects'),
      entry.replaces && (
        <>
          <code>{entry.replaces.entry}</code>
          <br />
          {entry.replaces.reason}
        </>
      ),
    ),
    ...replacedBy.map((other): Fact => [translate('report.corrected-by'), <code key={other}>{other}</code>]),
    ...entry.shots.map(
      ({ role, name, bytes, sha256 }): Fact => [
        nameRole(role),
        <>
          {name}, {translate('report.bytes', { bytes })}
          <br />
          <code>SHA-256 {sha256}</code>
        </>,
      ],
    ),
  ];
  return (
    <>
      <Section title={translate('report.logbook')} note={translate('report.logbook-note')}>
        <Facts facts={facts} />
      </Section>
      {additions.length > 0 && (
        <Section title={translate('report.added')}>
          <Facts facts={additions.map(describeAddition)} />
        </Section>
      )}
    </>
  );
}

export const nameRole = (role: Entry['shots'][number]['role']): string => translate(`report.role-${role}`);

export function factIf(name: string, value: ReactNode): Fact[] {
  return value ? [[name, value]] : [];
}

/** When it was measured, which is what a reading is of; when it was kept, where that is not known. */
export function momentOf({ reading, saved_at }: Pick<Entry, 'reading' | 'saved_at'>): string {
  return reading.measured_at ?? saved_at;
}

/** Names of universal time, which the moment itself says already. */
const UNIVERSAL = /^(?:Etc\/)?(?:UTC|UCT|GMT|Universal|Zulu)$/;

export function describeMoment({ saved_at, zone }: Pick<Entry, 'saved_at' | 'zone'>): string {
  return `${formatMoment(saved_at)}${zone === null || UNIVERSAL.test(zone) ? '' : ` (${zone})`}`;
}

function describeAddition({ addition }: KeptEntry['additions'][number]): Fact {
  const { saved_at, by, note, photographs } = addition;
  return [
    `${formatMoment(saved_at)}${by === null ? '' : `, ${by}`}`,
    <>
      {note}
      {photographs.map(({ name, sha256 }) => (
        <span key={sha256}>
          <br />
          {name}
          <br />
          <code>SHA-256 {sha256}</code>
        </span>
      ))}
    </>,
  ];
}
