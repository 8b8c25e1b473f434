/** A draft against the House's own schema: the House, or what is wrong at which field and what is allowed there. */
import { type House, houseSchema } from '../../../../record/house.ts';
import { type Path, type Tree, valueAt, withValue } from './draft.ts';

export interface FieldRange {
  readonly least?: number;
  readonly most?: number;
  /** The least value itself is not allowed. */
  readonly isAbove?: boolean;
}

export interface FieldProblem {
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
  const least = below?.code === 'too_small' ? Number(below.minimum) : undefined;
  const most = above?.code === 'too_big' ? Number(above.maximum) : undefined;
  if (least === undefined && most === undefined) return undefined;
  return {
    ...(least === undefined ? {} : { least }),
    ...(most === undefined ? {} : { most }),
    ...(below?.code === 'too_small' && below.inclusive === false ? { isAbove: true } : {}),
  };
}
