/** What the logbook adds to a reading: who kept it, when and of which print, what it is linked with, and what was added later. */
import type { Addition, Entry } from '../../record/entry.ts';
import { formatMoment } from '../../wording/date-time.ts';
import { formatTurnAmount } from '../../wording/turns.ts';
import { type Insertable, type Markup, markup } from './markup.ts';
import { drawFacts } from './method.ts';
import { drawSection } from './section.ts';

export interface KeptEntry {
  readonly id: string;
  readonly entry: Entry;
  readonly additions: readonly { readonly id: string; readonly addition: Addition }[];
  readonly replacedBy: readonly string[];
  readonly followedBy: readonly string[];
}

type Fact = readonly [string, Insertable];

export function drawKept({ id, entry, additions, replacedBy, followedBy }: KeptEntry): Markup {
  const { house } = entry;
  const facts: Fact[] = [
    ['Entry', drawId(id)],
    ['Kept', `${formatMoment(entry.saved_at)}${entry.zone === null ? '' : ` (${entry.zone})`}`],
    ...tell('House', house?.name ?? null),
    ...tell('Print', [entry.print, entry.reel === null ? null : `reel ${entry.reel}`].filter(Boolean).join(', ')),
    ...tell('Operator', entry.operator),
    ...tell('Note', entry.note),
    ...tell('Turned before it', entry.turns_made.map(formatTurn).join('; ')),
    ...tell('Measured after', entry.follows && drawId(entry.follows)),
    ...followedBy.map((other): Fact => ['Measured before', drawId(other)]),
    ...tell('Corrects', entry.replaces && markup`${drawId(entry.replaces.entry)}<br>${entry.replaces.reason}`),
    ...replacedBy.map((other): Fact => ['Corrected by', drawId(other)]),
    ...entry.shots.map(
      ({ role, name, bytes, sha256 }): Fact => [
        ROLES[role],
        markup`${name}, ${bytes} bytes<br><code>SHA-256 ${sha256}</code>`,
      ],
    ),
  ];
  return markup`${drawSection(
    'In the logbook',
    'An entry’s name is the SHA-256 of its content: whoever changes it changes its name',
    drawFacts(facts),
  )}${additions.length === 0 ? null : drawSection('Added later', null, drawFacts(additions.map(describeAddition)))}`;
}

export const ROLES: Readonly<Record<Entry['shots'][number]['role'], string>> = {
  'left-lens': 'Left lens',
  'right-lens': 'Right lens',
  closing: 'Left lens, closing',
};

function tell(name: string, value: Insertable): Fact[] {
  return value === null || value === '' ? [] : [[name, value]];
}

export function formatTurn({ adjustment, direction, turns }: Entry['turns_made'][number]): string {
  return `${adjustment}, ${formatTurnAmount(turns)} ${direction}`;
}

function drawId(id: string): Markup {
  return markup`<code>${id}</code>`;
}

function describeAddition({ addition }: KeptEntry['additions'][number]): Fact {
  const { saved_at, by, note, photographs } = addition;
  const kept = photographs.map(({ name, sha256 }) => markup`<br>${name}<br><code>SHA-256 ${sha256}</code>`);
  return [`${formatMoment(saved_at)}${by === null ? '' : `, ${by}`}`, markup`${note ?? ''}${kept}`];
}
