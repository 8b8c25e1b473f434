/**
 * The one list of what a shell can ask for. Types of clients and of those who answer are derived from it, and every
 * input is checked against it where it arrives, whichever way it came.
 */
import { z } from 'zod';
import { ASPECT_RANGE } from '../kernel/aspect.ts';
import { recordId } from '../record/entry.ts';
import { houseSchema } from '../record/house.ts';
import { lightBudget } from '../record/light-budget.ts';
import { lightChain } from '../record/light-chain.ts';
import { diagnosis } from '../record/diagnosis.ts';
import { reading } from '../record/reading.ts';
import { shotSlot } from '../record/roles.ts';
import { trend } from '../record/trend.ts';
import { sha256 } from '../record/values.ts';
import { lightRequests } from './light.ts';
import {
  keepRequest,
  keptRecord,
  logbookEntry,
  logbookList,
  logbookOverview,
  logbookPair,
  logbookQuery,
  logbookResult,
  noteRequest,
  pairRequest,
} from './logbook.ts';
import { polarizerRequests } from './polarizers.ts';
import { folderList } from './watch.ts';
import { settings, turnMade, workspace } from './workspace.ts';

const nothing = z.strictObject({});
const procedure = <I extends z.ZodType, O extends z.ZodType>(input: I, output: O) => ({ input, output });
const ofEntry = z.strictObject({ id: recordId });
const begun = z.object({ job: z.int().positive() });
const ofRound = z.strictObject({ round: z.int().positive() });

export const PROCEDURES = {
  'workspace.read': procedure(nothing, workspace),
  /** Puts shots and rounds away and begins anew; house and settings stay. */
  'workspace.start-over': procedure(nothing, workspace),
  'workspace.dismiss-notices': procedure(nothing, workspace),
  'settings.change': procedure(z.strictObject(settings.partial().shape), workspace),

  /** A checked House, or null to work without one. */
  'house.set': procedure(z.strictObject({ house: houseSchema.nullable() }), workspace),
  /** Any JSON: a House file as the command line reads it. Refused with the reasons in words. */
  /** Takes into the house what the rounds have shown of film and glasses. */
  'house.take-findings': procedure(nothing, workspace),
  'house.import': procedure(z.strictObject({ json: z.unknown() }), workspace),
  'aspect.set': procedure(
    z.strictObject({ aspect: z.number().min(ASPECT_RANGE.min).max(ASPECT_RANGE.max) }),
    workspace,
  ),

  /** One of the photographs of a role, or all of them. */
  'shot.remove': procedure(z.strictObject({ slot: shotSlot, sha256: sha256.optional() }), workspace),
  /** What lies in the places has been measured; the next round begins with empty ones. */
  'shots.photograph-again': procedure(nothing, workspace),
  /** Exchanges the photographs of the two lenses. */
  'shots.exchange': procedure(nothing, workspace),

  /** New photographs in this folder go into the next place by themselves, and are measured when the set is complete. */
  'watch.start': procedure(z.strictObject({ folder: z.string().min(1).max(4000) }), workspace),
  'watch.stop': procedure(nothing, workspace),
  /** The folders in a folder; in that of the user where none is named. */
  'folders.list': procedure(z.strictObject({ folder: z.string().min(1).max(4000).nullable() }), folderList),

  /** Answers as soon as the work has begun; what becomes of it is told by the workspace's jobs. */
  'measure.start': procedure(nothing, z.object({ job: z.int().positive() })),
  'job.cancel': procedure(z.strictObject({ job: z.int().positive() }), workspace),

  'round.read': procedure(ofRound, reading),
  'round.note-turns': procedure(ofRound.extend({ turns_made: z.array(turnMade) }), workspace),
  /** Keeps what a check has shown; null takes it back. */
  'round.answer-check': procedure(ofRound.extend({ check: z.string(), answer: z.string().nullable() }), workspace),
  /** The causes of the round, weighed again with what the checks have shown. */
  'round.update-causes': procedure(ofRound, diagnosis),
  /** States in the house what the rounds have shown of its adjustments. */
  'learned.take': procedure(nothing, workspace),
  /** The attachment or a lens is another one: what rounds have shown so far counts no more. */
  'learned.forget': procedure(nothing, workspace),

  /** What is turned, before which lens, how it is counted. A result that rested on something else is dropped. */
  'polarizers.change-setting': procedure(polarizerRequests.setting, workspace),
  'polarizers.set-turn': procedure(polarizerRequests.turn, workspace),
  'polarizers.move': procedure(polarizerRequests.move, workspace),
  'polarizers.remove': procedure(polarizerRequests.remove, workspace),
  'polarizers.clear-series': procedure(nothing, workspace),
  /** Exchanges the photographs of the two lenses. */
  'polarizers.exchange-ports': procedure(nothing, workspace),
  /** Both answer as soon as the work has begun. */
  'polarizers.find-null': procedure(nothing, begun),
  'polarizers.compare-ports': procedure(nothing, begun),

  'light.set-subject': procedure(lightRequests.subject, workspace),
  'light.set-meter': procedure(lightRequests.meter, workspace),
  'light.remove': procedure(lightRequests.remove, workspace),
  /** The photographs through the lenses, as they lie among the shots. */
  'light.take-shots': procedure(nothing, workspace),
  'light.measure': procedure(nothing, begun),
  /** The chain of a house as usual, to be edited; nothing is kept. */
  'light.default-chain': procedure(lightRequests.usual, lightChain),
  /** Reckons the chain through, and keeps it. */
  'light.compute-budget': procedure(lightRequests.chain, lightBudget),

  /** The next `frames` frames become the photograph of `slot`. */
  'live.capture': procedure(
    z.strictObject({
      slot: shotSlot,
      frames: z.int().min(1).max(64),
      name: z.string().max(200),
      is_repeat: z.boolean().optional(),
    }),
    nothing,
  ),
  'live.stop': procedure(nothing, nothing),

  /** What the logbook holds in short, also what other programs have written since. */
  'logbook.read': procedure(nothing, logbookOverview),
  /** Opens the logbook in a folder, or begins one there, and keeps to it from now on. */
  'logbook.choose-folder': procedure(
    z.strictObject({ folder: z.string().trim().min(1).max(4000), create: z.boolean() }),
    logbookOverview,
  ),
  /** A round with its photographs as an entry. */
  'logbook.keep': procedure(keepRequest, keptRecord),
  'logbook.list': procedure(logbookQuery, logbookList),
  'logbook.show': procedure(ofEntry, logbookEntry),
  /** A note, or photographs that were sent before, or both. */
  'logbook.add-note': procedure(noteRequest, keptRecord),
  'logbook.compare': procedure(pairRequest, logbookPair),
  'logbook.trends': procedure(
    logbookQuery.extend({ horizon_days: z.int().min(1).max(3650) }),
    z.object({ trends: z.array(trend).readonly(), houses: z.array(z.string()).readonly() }),
  ),
  /** `is_quick`: hashes and links only. */
  'logbook.verify': procedure(z.strictObject({ is_quick: z.boolean() }), begun),
  'logbook.export': procedure(ofEntry, begun),
  /** Of a job that is done, until the next of its kind begins. */
  'logbook.result': procedure(z.strictObject({ job: z.int().positive() }), logbookResult),
} as const;

export type ProcedureName = keyof typeof PROCEDURES;
export type Input<P extends ProcedureName> = z.input<(typeof PROCEDURES)[P]['input']>;
export type Checked<P extends ProcedureName> = z.output<(typeof PROCEDURES)[P]['input']>;
export type Output<P extends ProcedureName> = z.output<(typeof PROCEDURES)[P]['output']>;
