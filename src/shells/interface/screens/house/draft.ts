/**
 * A House while it is written: the tree of a House file in which a number that cannot be read stands as the text that
 * was typed, and what is left empty is absent. So the House's own schema says what is wrong with a draft.
 *
 * What was typed is kept beside it for as long as it is shown in the same units, so that no figure is rewritten under
 * the writer's hands.
 */
import { HOUSE_SCHEMA, type House } from '../../../../record/house.ts';
import { formatQuantity, parseQuantity, type Quantity, type Units } from './units.ts';

export type Leaf = string | number;
export interface Tree {
  readonly [key: string]: Leaf | Tree | readonly Tree[] | undefined;
}
/** Keys from the root, with a number for a place in a list: `attachment.adjustments.0.pitch_mm`. */
export type Path = string;

export interface Draft {
  readonly tree: Tree;
  readonly typed: Readonly<Record<Path, { readonly text: string; readonly units: Units }>>;
}

export const draftOf = (house: House): Draft => ({ tree: house as unknown as Tree, typed: {} });

/** A House of which nothing is known yet. */
export const BLANK_DRAFT: Draft = { tree: { schema: HOUSE_SCHEMA, screen: {}, seats: {}, film: {} }, typed: {} };

export function valueAt(tree: Tree, path: Path): unknown {
  return path.split('.').reduce<unknown>((value, key) => (value as Record<string, unknown> | undefined)?.[key], tree);
}

/** The tree with another value at a path; undefined takes it away, and with it what has become empty around it. */
export function withValue(tree: Tree, path: Path, value: unknown): Tree {
  return (setIn(tree, path.split('.'), value) ?? {}) as Tree;
}

/** Needed by every House: they stay when they are empty. */
const ALWAYS_THERE: ReadonlySet<string> = new Set(['screen', 'seats', 'film', 'adjustments', 'attachment']);

function setIn(node: unknown, [key, ...rest]: readonly string[], value: unknown): unknown {
  if (key === undefined) return value;
  if (Array.isArray(node)) return node.map((each, i) => (String(i) === key ? setIn(each, rest, value) : each));
  const { [key]: before, ...others } = (node ?? {}) as Record<string, unknown>;
  const after = setIn(before, rest, value);
  const isEmptied = isEmpty(after) && !ALWAYS_THERE.has(key) && rest.length > 0;
  if (after === undefined || isEmptied) return others;
  // A key that was there keeps its place.
  return before === undefined ? { ...others, [key]: after } : { ...(node as object), [key]: after };
}

const isEmpty = (value: unknown) =>
  typeof value === 'object' && value !== null && !Array.isArray(value) && Object.keys(value).length === 0;

/** What stands in a field: as typed, else the kept value in the units shown. */
export function textAt({ tree, typed }: Draft, path: Path, quantity: Quantity | 'text', units: Units): string {
  const value = valueAt(tree, path);
  if (typeof value !== 'number' || quantity === 'text') return value === undefined ? '' : String(value);
  const own = typed[path];
  return own?.units === units ? own.text : formatQuantity(value, quantity, units);
}

export function typeText(draft: Draft, path: Path, text: string, quantity: Quantity | 'text', units: Units): Draft {
  if (quantity === 'text') {
    return { ...draft, tree: withValue(draft.tree, path, text === '' ? undefined : text) };
  }
  const value = text.trim() === '' ? undefined : (parseQuantity(text, quantity, units) ?? text);
  return { tree: withValue(draft.tree, path, value), typed: { ...draft.typed, [path]: { text, units } } };
}

export function choose(draft: Draft, path: Path, value: Leaf | Tree | readonly Tree[] | undefined): Draft {
  return { tree: withValue(draft.tree, path, value), typed: withoutBelow(draft.typed, path) };
}

/** Texts below a path that now means something else are forgotten; the values themselves stay. */
function withoutBelow(typed: Draft['typed'], path: Path): Draft['typed'] {
  return Object.fromEntries(Object.entries(typed).filter(([each]) => each !== path && !each.startsWith(`${path}.`)));
}
