/**
 * A light chain while it is written: numbers stand as they were typed, and the chain's own schema says what is wrong with
 * them. Uncertainties are typed as the half width of the 95 % interval, which is what people know, and kept as half of it.
 */
import type { RecordedBudget } from '../../../../record/light-budget.ts';
import { type ChainStep, LIGHT_CHAIN_SCHEMA, type LightChain, readLightChain } from '../../../../record/light-chain.ts';
import { formatGiven } from '../../../../wording/numbers.ts';
import { fromCandela, type LightUnit, readNumber, toCandela } from './light-units.ts';

export type StartUnit = LightUnit | 'lx';

export interface DraftStep {
  /** Stays with the step while others come and go. */
  readonly key: number;
  readonly step: ChainStep;
  readonly factor: string;
  readonly range: string;
  readonly label: string;
}

export interface DraftChain {
  readonly unit: StartUnit;
  readonly start: string;
  readonly startRange: string;
  readonly steps: readonly DraftStep[];
  readonly lastKey: number;
}

/** What is wrong with a field: `start`, `startRange`, or `factor-3`, `range-3`, `label-3` with the step's key. */
export type DraftProblems = ReadonlyMap<string, 'missing' | 'not-a-number' | 'too-small' | 'too-large'>;

/** Four figures, without zeros at the end. */
const writeNumber = formatGiven;
/** Three are enough for an uncertainty. */
const writeRange = (u: number) => formatGiven(Number((2 * u).toPrecision(3)));

export function draftOf({ start, steps }: LightChain): DraftChain {
  const unit: StartUnit = start.illuminance_lx ? 'lx' : start.luminance_fL ? 'fL' : 'cd_m2';
  const reading = start.illuminance_lx ?? start.luminance_fL ?? start.luminance_cd_m2!;
  return {
    unit,
    start: writeNumber(reading.value),
    startRange: writeRange(reading.u),
    steps: steps.map((step, i) => draftStep(step, i + 1)),
    lastKey: steps.length,
  };
}

function draftStep(step: ChainStep, key: number): DraftStep {
  return {
    key,
    step,
    factor: writeNumber(step.factor.value),
    range: writeRange(step.factor.u),
    label: step.label ?? '',
  };
}

/** The factor is the house's own from now on. */
export function typeStep(
  draft: DraftChain,
  key: number,
  change: Partial<Pick<DraftStep, 'factor' | 'range' | 'label'>>,
  source: string,
): DraftChain {
  const steps = draft.steps.map((each): DraftStep => {
    if (each.key !== key) return each;
    const isOwn = change.label === undefined;
    return { ...each, ...change, step: isOwn ? { ...each.step, source, basis: 'house' } : each.step };
  });
  return { ...draft, steps };
}

export function removeStep(draft: DraftChain, key: number): DraftChain {
  return { ...draft, steps: draft.steps.filter((each) => each.key !== key) };
}

/** A step of the house's own, before the glasses, which are always last. */
export function addStep(draft: DraftChain, label: string, source: string): DraftChain {
  const key = draft.lastKey + 1;
  const own = draftStep({ code: 'other', label, factor: { value: 0.9, u: 0.025 }, source, basis: 'house' }, key);
  const at = draft.steps.at(-1)?.step.code === 'glasses' ? draft.steps.length - 1 : draft.steps.length;
  return { ...draft, lastKey: key, steps: [...draft.steps.slice(0, at), own, ...draft.steps.slice(at)] };
}

/** The same reading in another unit; lux are no luminance, so their number stays as it is. */
export function changeUnit(draft: DraftChain, unit: StartUnit): DraftChain {
  const { unit: before } = draft;
  if (before === unit || before === 'lx' || unit === 'lx') return { ...draft, unit };
  const turn = (text: string) => {
    const value = readNumber(text);
    return value === null ? text : writeNumber(fromCandela(toCandela(value, before), unit));
  };
  return { ...draft, unit, start: turn(draft.start), startRange: turn(draft.startRange) };
}

export function checkDraft(draft: DraftChain): { readonly chain?: LightChain; readonly problems: DraftProblems } {
  const problems = new Map<string, 'missing' | 'not-a-number' | 'too-small' | 'too-large'>();
  const read = (text: string, field: string): number => {
    const value = readNumber(text);
    if (value === null) problems.set(field, text.trim() === '' ? 'missing' : 'not-a-number');
    return value ?? 1;
  };
  const reading = { value: read(draft.start, 'start'), u: read(draft.startRange, 'startRange') / 2 };
  const fields = { cd_m2: 'luminance_cd_m2', fL: 'luminance_fL', lx: 'illuminance_lx' } as const;
  const steps = draft.steps.map(({ key, step, factor, range, label }): ChainStep => {
    const { label: _, ...rest } = step;
    const value = read(factor, `factor-${key}`);
    const own = label.trim();
    if (step.code === 'other' && own === '') problems.set(`label-${key}`, 'missing');
    return {
      ...rest,
      ...(own === '' ? (step.code === 'other' ? { label: '–' } : {}) : { label: own }),
      factor: { value, u: read(range, `range-${key}`) / 2 },
    };
  });
  const checked = readLightChain({ schema: LIGHT_CHAIN_SCHEMA, start: { [fields[draft.unit]]: reading }, steps });
  if (checked.outcome === 'read') return problems.size > 0 ? { problems } : { chain: checked.chain, problems };
  for (let i = 1; checked.facts[`path_${i}`] !== undefined; i++) {
    const field = fieldAt(String(checked.facts[`path_${i}`]), draft);
    const code = checked.facts[`problem_${i}`];
    if (!problems.has(field)) problems.set(field, code === 'too-large' ? 'too-large' : 'too-small');
  }
  return { problems };
}

/** `steps[2].factor.u` -> `range-5`, the key of the third step being 5. */
function fieldAt(path: string, { steps }: DraftChain): string {
  const [, index, part] = /^steps\[(\d+)\]\.factor\.(value|u)$/.exec(path) ?? [];
  if (index !== undefined) return `${part === 'u' ? 'range' : 'factor'}-${steps[Number(index)]!.key}`;
  if (/^start\..*\.u$/.test(path)) return 'startRange';
  return path.startsWith('start') ? 'start' : path;
}

/** How long the bars of a budget are: what is left behind each step, and what the step took, in parts of the drawing's width. */

interface Bar {
  /** 0 to 1 of the drawing's width. */
  readonly left: number;
  /** What the step took away, or added where it is negative. */
  readonly taken: number;
}

export interface Waterfall {
  readonly start: number;
  readonly steps: readonly Bar[];
  /** Ends of the 95 % interval of the light at the eye. */
  readonly interval: readonly [number, number];
  /** Where the least light that is asked at the eye stands. */
  readonly asked: number | null;
}

export function layoutWaterfall({ start, steps, at_eye, findings }: RecordedBudget): Waterfall {
  const most = Math.max(start.cd_m2.value, ...steps.map(({ after }) => after.cd_m2.value));
  const part = (cd_m2: number) => Math.min(1, Math.max(0, cd_m2 / most));
  const before = [start, ...steps.map(({ after }) => after)].map(({ cd_m2 }) => part(cd_m2.value));
  const { value, u } = at_eye.cd_m2;
  const limit = findings.find(({ code }) => code === 'at-the-eye')?.limit;
  return {
    start: before[0]!,
    steps: steps.map((_, i) => ({ left: before[i + 1]!, taken: before[i]! - before[i + 1]! })),
    interval: [part(value - 2 * u), part(value + 2 * u)],
    asked: limit === undefined || limit > most ? null : part(limit),
  };
}
