/** The photographs that a command names: by the way each was taken, in the order in which they were taken. */
import { Option } from 'commander';
import type { PhotographRole } from '../../record/roles.ts';
import { translateHelp } from '../../wording/command.ts';
import { wrongUsage } from './exit-status.ts';
import { closingOption, leftOption, rightOption } from './options.ts';

export interface PhotographOptions {
  readonly bare?: readonly string[];
  readonly left?: readonly string[];
  readonly right?: readonly string[];
  readonly closing?: string;
  /** Roles in the order in which the photographs were taken, where the files are not named in that order. */
  readonly order?: string;
}

export interface NamedPhotograph {
  readonly role: PhotographRole;
  readonly path: string;
  readonly name: string;
}

export function photographOptions(): Option[] {
  return [
    new Option('--bare <photos...>', translateHelp('bare')),
    leftOption('photos...'),
    rightOption('photos...'),
    closingOption(),
    new Option('--order <roles>', translateHelp('order')),
  ];
}

const ROLE_OF: Readonly<Record<string, PhotographRole>> = {
  bare: 'bare',
  left: 'left-lens',
  right: 'right-lens',
  closing: 'closing',
};

/** Throws UsageError where nothing can be measured from what was named. */
export function listPhotographs({
  bare = [],
  left = [],
  right = [],
  closing,
  order,
}: PhotographOptions): NamedPhotograph[] {
  if (bare.length === 0 && left.length === 0 && right.length === 0) {
    throw wrongUsage('photographs-needed');
  }
  if ((left.length === 0) !== (right.length === 0)) {
    throw wrongUsage('pair-incomplete');
  }
  if (closing !== undefined && left.length === 0) throw wrongUsage('closing-without-pair');
  const named = { bare, left, right, closing: closing === undefined ? [] : [closing] };
  const roles = order === undefined ? defaultOrder(named) : readOrder(order, named);
  const taken = { bare: 0, left: 0, right: 0, closing: 0 };
  return roles.map((word) => {
    const path = named[word][taken[word]++]!;
    return { role: ROLE_OF[word]!, path, name: path };
  });
}

type Word = 'bare' | 'left' | 'right' | 'closing';
type Named = Readonly<Record<Word, readonly string[]>>;

/** Left and right in turn and back again, as far as there are of each; those without glasses after them. */
function defaultOrder(named: Named): Word[] {
  const roles: Word[] = [];
  for (let i = 0; i < Math.max(named.left.length, named.right.length); i++) {
    const pair: readonly Word[] = i % 2 === 0 ? ['left', 'right'] : ['right', 'left'];
    roles.push(...pair.filter((word) => i < named[word].length));
  }
  return [...roles, ...named.bare.map((): Word => 'bare'), ...named.closing.map((): Word => 'closing')];
}

function readOrder(order: string, named: Named): Word[] {
  const roles = order.split(',').map((word) => word.trim()) as Word[];
  for (const word of Object.keys(named) as Word[]) {
    const count = roles.filter((role) => role === word).length;
    if (count !== named[word].length) {
      throw wrongUsage('order-count', { role: word, named: count, given: named[word].length });
    }
  }
  const strange = roles.find((role) => !(role in named));
  if (strange !== undefined) throw wrongUsage('order-unknown', { role: strange });
  return roles;
}
