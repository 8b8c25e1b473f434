/**
 * A House while it is written: the tree of a House file in which a number that cannot be read stands as the text that
 * was typed, and what is left empty is absent. So the House's own schema says what is wrong with a draft.
 *
 * What was typed is kept beside it for as long as it is shown in the same units, so that no figure is rewritten under
 * the writer's hands.
 */
import { MAX_CALL_BYTES } from '../../../../contract/addresses.ts';
import type { Failure } from '../../../../contract/failures.ts';
import { type House, HOUSE_SCHEMA, houseSchema } from '../../../../record/house.ts';
import { isMessageKey, translate } from '../../../../wording/translate.ts';
import { formatQuantity, parseQuantity, type Quantity, shownAs, type Units } from './units.ts';

type Leaf = string | number;
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

/** A draft against the House's own schema: the House, or what is wrong at which field and what is allowed there. */

interface FieldRange {
  readonly min?: number;
  readonly max?: number;
  /** The least value itself is not allowed. */
  readonly isAbove?: boolean;
}

interface FieldProblem {
  /** `missing`, `no-number`, `out-of-range`, `too-long`, `not-allowed`, `no-short-name`, or a code of the House's own checks. */
  readonly code: string;
  readonly range?: FieldRange;
}

export type CheckedDraft =
  | { readonly house: House; readonly problems: ReadonlyMap<Path, FieldProblem> }
  | { readonly house: undefined; readonly problems: ReadonlyMap<Path, FieldProblem> };

export function checkDraft(tree: Tree): CheckedDraft {
  const parsed = houseSchema.safeParse(tree);
  if (parsed.success) return { house: parsed.data, problems: new Map() };
  const problems = new Map<Path, FieldProblem>();
  for (const issue of parsed.error.issues) {
    const path = issue.path.join('.');
    if (!problems.has(path)) problems.set(path, describe(tree, path, issue));
  }
  return { house: undefined, problems };
}

type Issue = NonNullable<ReturnType<typeof houseSchema.safeParse>['error']>['issues'][number];

function describe(tree: Tree, path: Path, issue: Issue): FieldProblem {
  const value = valueAt(tree, path);
  if (issue.code === 'custom') return { code: issue.message };
  if (value === undefined) return { code: 'missing', ...withRange(tree, path) };
  if (issue.code === 'too_small' || issue.code === 'too_big') {
    return typeof value === 'string' ? { code: 'too-long' } : { code: 'out-of-range', ...withRange(tree, path) };
  }
  if (issue.code === 'invalid_type' && typeof value === 'string') {
    return { code: 'no-number', ...withRange(tree, path) };
  }
  if (issue.code === 'invalid_type') return { code: 'no-whole-number', ...withRange(tree, path) };
  return { code: issue.code === 'invalid_format' ? 'no-short-name' : 'not-allowed' };
}

const withRange = (tree: Tree, path: Path) => {
  const range = findRange(tree, path);
  return range === undefined ? {} : { range };
};

/** Beyond every limit of a House. */
const FAR = 1e9;

/** What the schema allows at a path, found by asking it; undefined where it sets no limits. */
export function findRange(tree: Tree, path: Path): FieldRange | undefined {
  const issueOf = (value: number) => {
    const { error } = houseSchema.safeParse(withValue(tree, path, value));
    return error?.issues.find((issue) => issue.path.join('.') === path);
  };
  const below = issueOf(-FAR);
  const above = issueOf(FAR);
  const min = below?.code === 'too_small' ? Number(below.minimum) : undefined;
  const max = above?.code === 'too_big' ? Number(above.maximum) : undefined;
  if (min === undefined && max === undefined) return undefined;
  return {
    ...(min === undefined ? {} : { min }),
    ...(max === undefined ? {} : { max }),
    ...(below?.code === 'too_small' && below.inclusive === false ? { isAbove: true } : {}),
  };
}

/** What is wrong with a field and what is allowed, in the units that are shown. */

export function formatProblem({ code, range }: FieldProblem, quantity: Quantity | 'text', units: Units): string {
  const key = `house.problem-${code}`;
  const what = isMessageKey(key) ? translate(key) : translate('house.problem-not-allowed');
  const allowed = quantity === 'text' ? undefined : formatRange(range, quantity, units);
  return allowed === undefined ? what : `${what} ${allowed}`;
}

export function formatRange(range: FieldRange | undefined, quantity: Quantity, units: Units): string | undefined {
  if (range === undefined) return undefined;
  const { min, max, isAbove } = range;
  const unit = formatUnit(quantity, units);
  const text = (value: number, round: (value: number) => number) =>
    [roundInwards(value / shownAs(quantity, units).factor, round), unit].filter((part) => part !== undefined).join(' ');
  if (max === undefined)
    return min === undefined ? undefined : translate('house.range-min', { min: text(min, Math.ceil) });
  if (min === undefined) return translate('house.range-max', { max: text(max, Math.floor) });
  const ends = { min: text(min, Math.ceil), max: text(max, Math.floor) };
  return translate(isAbove ? 'house.range-above' : 'house.range-between', ends);
}

/** To four digits, and never to a value that lies outside. */
function roundInwards(value: number, round: (value: number) => number): number {
  if (value === 0) return 0;
  const unit = 10 ** (Math.floor(Math.log10(Math.abs(value))) - 3);
  // What differs from a round number by the noise of the conversion alone is that number.
  const steps = Number((value / unit).toPrecision(12));
  return Number((round(steps) * unit).toPrecision(6));
}

/** The unit as it stands behind a number; undefined for plain numbers. */
export function formatUnit(quantity: Quantity, units: Units): string | undefined {
  const { unit } = shownAs(quantity, units);
  return unit === 'none' ? undefined : translate(`house.unit-${unit}`);
}

/** House files, in and out: the same JSON that the command line reads. */

export function writeHouseFile(house: House): { readonly name: string; readonly text: string } {
  const name = house.name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^(the-)?-*|-+$/g, '');
  return { name: `${name === '' ? 'my' : name}.house.json`, text: `${JSON.stringify(house, null, 2)}\n` };
}

/** The parts of a File that are looked at. */
export interface GivenText {
  readonly name: string;
  readonly size: number;
  text(): Promise<string>;
}

/** The JSON in a file; whether it is a House is for the shell to say. */
export async function readHouseFile(
  file: GivenText,
): Promise<{ readonly json: unknown } | { readonly failure: Failure }> {
  const refuse = (code: 'too-large' | 'unreadable' | 'no-json') => ({
    failure: {
      code: `house-file-${code}`,
      message: translate(`house.file-${code}`, { name: file.name }),
      remedy: translate(`house.file-${code}-remedy`),
    },
  });
  if (file.size > MAX_CALL_BYTES / 2) return refuse('too-large');
  let text: string;
  try {
    text = await file.text();
  } catch {
    return refuse('unreadable');
  }
  try {
    // Editors of some systems begin the file with a byte order mark.
    return { json: JSON.parse(text.replace(/^\uFEFF/, '')) as unknown };
  } catch {
    return refuse('no-json');
  }
}
