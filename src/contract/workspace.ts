/**
 * The current work of one operator, as every shell shows it: house, shots, rounds of measuring and turning, settings.
 * It is kept on disk after every change, so that a crash or a reload loses nothing.
 */
import { z } from 'zod';
import { recordId } from '../record/entry.ts';
import { houseSchema } from '../record/house.ts';
import { houseFindings } from '../record/house-findings.ts';
import { direction } from '../record/reading.ts';
import { photographRole } from '../record/roles.ts';
import { TERM_FIELDS } from '../record/term-fields.ts';
import { measured, overallVerdict } from '../record/values.ts';
import { failure } from './failures.ts';
import { light } from './light.ts';
import { polarizers } from './polarizers.ts';
import { shot } from './shots.ts';
import { folderWatch } from './watch.ts';

/** A turn that somebody says was made. */
export const turnMade = z.object({
  adjustment: z.string(),
  direction,
  /** Turns; for a part turned as a whole by hand, 360 degrees are one turn. */
  turns: z.number().positive(),
});
export type TurnMade = z.infer<typeof turnMade>;

/** What a check has shown that somebody made: codes of the check and of its answer. */
const checkAnswer = z.object({ check: z.string(), answer: z.string() });
export type CheckAnswer = z.infer<typeof checkAnswer>;

const terms = z.object(
  Object.fromEntries(TERM_FIELDS.map((field) => [field, measured])) as Record<
    (typeof TERM_FIELDS)[number],
    typeof measured
  >,
);

/** Whether the turns made before a round did what was expected of them. */
export const turnsOutcome = z.object({
  verdict: z.enum(['as-advised', 'other-direction', 'too-little', 'too-much', 'cannot-tell']),
  /** How much of the expected change came: 1 is all of it, below 0 the other way; null where none could be expected. */
  part: measured.nullable(),
  /** The strongest first, in the unit of the term's name. */
  changes: z
    .array(
      z.object({
        term: z.enum(TERM_FIELDS),
        /** Null where the effect of what was turned is not known. */
        expected: measured.nullable(),
        found: measured,
        /** Changed by much, though the turns were not to change it. */
        is_unexpected: z.boolean(),
      }),
    )
    .readonly(),
});
export type TurnsOutcome = z.infer<typeof turnsOutcome>;

/** One measurement in the list; the whole reading is asked for by its number. */
export const round = z.object({
  number: z.int().positive(),
  at: z.string(),
  outcome: z.enum(['measured', 'refused']),
  /** The reading's sentence, or the refusal's. */
  sentence: z.string(),
  terms: terms.nullable(),
  /** Signed vertical amount at the worst place of the picture area, an amount; null where refused. */
  worst_vertical_pct: measured.nullable(),
  /** What the reading said would be left after its turns, of the worst place. */
  predicted_worst_vertical_pct: z.number().nullable(),
  verdict: overallVerdict.nullable(),
  /** Photographs by their hash. */
  shots: z.partialRecord(photographRole, z.string()),
  /** Further photographs of a role; left out where there were none. */
  repeats: z.array(z.object({ role: photographRole, sha256: z.string() })).optional(),
  /** What was turned after this round; null until somebody says. */
  turns_made: z.array(turnMade).nullable(),
  /** What became of the turns noted with the round before; null where there were none. */
  after_turns: turnsOutcome.nullable().optional(),
  /** What its photographs have shown of film and glasses; null, or left out, where nothing, or when the house has it. */
  house_findings: houseFindings.nullable().optional(),
  /** The logbook's entry that holds this round; null, or left out, until it is kept. */
  kept_as: recordId.nullable().optional(),
  /** What the checks have shown since, in the order in which they were answered. */
  check_answers: z.array(checkAnswer).optional(),
});
export type Round = z.infer<typeof round>;

/** The hashes of the photographs that a round names. */
export function photographsOf({ shots, repeats = [] }: Pick<Round, 'shots' | 'repeats'>): string[] {
  return [...Object.values(shots), ...repeats.map(({ sha256 }) => sha256)];
}

/** Dark for the booth; darker still, in red alone, for eyes that are to stay used to the dark; light. */
export const THEMES = ['booth', 'red', 'light'] as const;

export const settings = z.object({
  units: z.enum(['metric', 'inch']),
  theme: z.enum(THEMES),
  /** Percent of the usual size of letters. */
  text_size_pct: z.int().min(100).max(200),
  sound: z.boolean(),
});
export type Settings = z.infer<typeof settings>;

export const DEFAULT_SETTINGS: Settings = { units: 'metric', theme: 'booth', text_size_pct: 100, sound: false };

/** Work that takes long enough to be shown; the failure stays until the next job of its kind begins. */
const job = z.object({
  id: z.int().positive(),
  kind: z.enum([
    'examine',
    'measure',
    'logbook-verify',
    'logbook-import',
    'logbook-export',
    'null-search',
    'port-shots',
    'light',
  ]),
  stage: z.string(),
  /** 0 to 1. */
  fraction: z.number().min(0).max(1),
  state: z.enum(['waiting', 'running', 'done', 'cancelled', 'failed']),
  failure: failure.nullable(),
});
export type Job = z.infer<typeof job>;

const workspaceObject = z.object({
  /** Grows with every change. */
  revision: z.int().nonnegative(),
  house: houseSchema.nullable(),
  /** Picture width over height of the target where there is no house. */
  aspect: z.number(),
  shots: z.array(shot),
  rounds: z.array(round),
  /** The photographs of rounds up to this one are past: the next round begins with empty places. */
  past_round: z.int().nonnegative().optional(),
  /** What rounds up to this one have shown of the adjustments stands in the house, or is forgotten. */
  learned_until: z.int().nonnegative().optional(),
  /** Left out where nothing has been laid out there. */
  polarizers: polarizers.optional(),
  /** Left out where nothing has been laid out there. */
  light: light.optional(),
  /** Left out while no folder is watched. */
  watch: folderWatch.optional(),
  settings,
  jobs: z.array(job),
  /** What was set aside or could not be kept, for the operator to know. */
  notices: z.array(failure),
});
type WorkspaceObject = typeof workspaceObject;
/** By its name, so that what is derived from it stays short enough for the compiler. */
export interface WorkspaceSchema extends WorkspaceObject {}
export const workspace: WorkspaceSchema = workspaceObject;
export type Workspace = z.infer<WorkspaceSchema>;
