/** What the logbook adds to a reading: who kept it, when and of which print, what it is linked with, and what was added later. */
import type { ReactNode } from 'react';
import type { Addition, Entry } from '../../record/entry.ts';
import { formatMoment } from '../../wording/date-time.ts';
import { formatTurnAmount } from '../../wording/turns.ts';
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
    ['Entry', <code key="id">{id}</code>],
    ['Kept', describeMoment(entry)],
    ...factIf('House', entry.house?.name),
    ...factIf('Print', [entry.print, entry.reel === null ? null : `reel ${entry.reel}`].filter(Boolean).join(', ')),
    ...factIf('Operator', entry.operator),
    ...factIf('Note', entry.note),
    ...factIf('Turned before it', entry.turns_made.map(formatTurnMade).join('; ')),
    ...factIf('Measured after', entry.follows && <code>{entry.follows}</code>),
    ...followedBy.map((other): Fact => ['Measured before', <code key={other}>{other}</code>]),
    ...factIf(
      'Corrects',
      entry.replaces && (
        <>
          <code>{entry.replaces.entry}</code>
          <br />
          {entry.replaces.reason}
        </>
      ),
    ),
    ...replacedBy.map((other): Fact => ['Corrected by', <code key={other}>{other}</code>]),
    ...entry.shots.map(
      ({ role, name, bytes, sha256 }): Fact => [
        ROLES[role],
        <>
          {name}, {bytes} bytes
          <br />
          <code>SHA-256 {sha256}</code>
        </>,
      ],
    ),
  ];
  return (
    <>
      <Section
        title="In the logbook"
        note="An entry’s name is the SHA-256 of its content: whoever changes it changes its name"
      >
        <Facts facts={facts} />
      </Section>
      {additions.length > 0 && (
        <Section title="Added later">
          <Facts facts={additions.map(describeAddition)} />
        </Section>
      )}
    </>
  );
}

export const ROLES: Readonly<Record<Entry['shots'][number]['role'], string>> = {
  'left-lens': 'Left lens',
  'right-lens': 'Right lens',
  closing: 'Left lens, closing',
  bare: 'Without glasses',
};

export function factIf(name: string, value: ReactNode): Fact[] {
  return value ? [[name, value]] : [];
}

export function describeMoment({ saved_at, zone }: Pick<Entry, 'saved_at' | 'zone'>): string {
  return `${formatMoment(saved_at)}${zone === null ? '' : ` (${zone})`}`;
}

export function formatTurnMade({ adjustment, direction, turns }: Entry['turns_made'][number]): string {
  return `${adjustment}, ${formatTurnAmount(turns)} ${direction}`;
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
