/** `measure --after --turned --learned`: what was turned since an earlier reading, and what that teaches of the adjustments. */
import { readFile } from 'node:fs/promises';
import { type Command, Option } from 'commander';
import type { MadeTurn } from '../../application/turns/move-adjustments.ts';
import type { House } from '../../record/house.ts';
import type { LearnedRecord } from '../../record/learned.ts';
import type { MeasuredReading, UnwordedReading } from '../../record/reading.ts';
import { writeAtomically } from '../../storage/write-atomically.ts';
import { translateHelp } from '../../wording/command.ts';
import { blameNamedPlace, wrongUsage } from './exit-status.ts';

export interface LearningOptions {
  readonly after?: string;
  readonly turned?: readonly string[];
  readonly learned?: string;
}

/** What was asked, read before anything is measured. */
export interface Learning {
  readonly house: House;
  readonly earlier: MeasuredReading | undefined;
  readonly made: readonly MadeTurn[];
  readonly saved: LearnedRecord | undefined;
  /** Where what was learned is written. */
  readonly place: string | undefined;
}

export function addLearningOptions(command: Command): Command {
  return command
    .addOption(new Option('--after <reading>', translateHelp('after')))
    .addOption(new Option('--turned <turns...>', translateHelp('turned')))
    .addOption(new Option('--learned <file>', translateHelp('learned')));
}

/** `undefined` where none of the options is given. Throws UsageError where one is of no use without another. */
export async function readLearning(
  { after, turned = [], learned }: LearningOptions,
  house: House | undefined,
): Promise<Learning | undefined> {
  if (after === undefined && turned.length === 0 && learned === undefined) return undefined;
  if (house === undefined) throw wrongUsage('learning-needs-house');
  if (turned.length > 0 && after === undefined) throw wrongUsage('turned-needs-after');
  const made = turned.map(readTurn);
  const ids = house.attachment?.adjustments.map(({ id }) => id) ?? [];
  const stranger = made.find(({ adjustment }) => !ids.includes(adjustment));
  if (stranger) {
    const values = { adjustment: stranger.adjustment, known: ids.join(', '), count: ids.length };
    throw wrongUsage('turned-unknown', values);
  }
  return {
    house,
    earlier: after === undefined ? undefined : await readEarlier(after),
    made,
    saved: learned === undefined ? undefined : await readSaved(learned),
    place: learned,
  };
}

/** `upper-screw:clockwise:0.125`, `whole-attachment:counter-clockwise:0.5deg`. */
function readTurn(text: string): MadeTurn {
  const [, adjustment, direction, amount, unit] =
    /^([a-z0-9-]+):(clockwise|counter-clockwise):(\d+\.?\d*|\.\d+)(deg)?$/.exec(text) ?? [];
  if (adjustment === undefined || !(Number(amount) > 0)) throw wrongUsage('turned-unreadable', { text });
  return {
    adjustment,
    direction: direction as MadeTurn['direction'],
    turns: unit === 'deg' ? Number(amount) / 360 : Number(amount),
  };
}

async function readEarlier(path: string): Promise<MeasuredReading> {
  const { reading } = await import('../../record/reading.ts');
  const parsed = reading.safeParse(await readJson(path, 'after-unreadable'));
  if (!parsed.success) throw wrongUsage('after-unreadable', { place: path });
  if (parsed.data.outcome === 'refused') throw wrongUsage('after-refused', { place: path });
  return parsed.data;
}

async function readSaved(path: string): Promise<LearnedRecord | undefined> {
  const { learnedRecord } = await import('../../record/learned.ts');
  const json = await readJson(path, 'learned-unreadable', true);
  if (json === undefined) return undefined;
  const parsed = learnedRecord.safeParse(json);
  if (!parsed.success) throw wrongUsage('learned-unreadable', { place: path });
  return parsed.data;
}

async function readJson(
  path: string,
  complaint: 'after-unreadable' | 'learned-unreadable',
  mayBeMissing = false,
): Promise<unknown> {
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    if (mayBeMissing && (error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
    throw wrongUsage(complaint, { place: path });
  }
  try {
    return JSON.parse(text);
  } catch {
    throw wrongUsage(complaint, { place: path });
  }
}

/** The reading with advice by what was learned; what was learned is written where it was asked for. */
export async function learnWithReading(
  reading: UnwordedReading,
  { house, earlier, made, saved, place }: Learning,
): Promise<UnwordedReading> {
  if (reading.outcome === 'refused') return reading;
  const { learnAndAdvise } = await import('../../application/turns/learn-from-rounds.ts');
  const rounds = earlier ? [{ reading: earlier, made: [] }] : [];
  const result = learnAndAdvise({ house, positionsFollow: false, rounds, saved, reading, made: earlier ? made : [] });
  if (result.outcome === 'refused') {
    const { translateRefusal } = await import('../../wording/refusals.ts');
    const { message, remedy } = translateRefusal(result.code, result.facts, null);
    throw wrongUsage('not-learned', { message, remedy });
  }
  if (place !== undefined) {
    await writeAtomically(place, `${JSON.stringify(result.record)}\n`).catch((error: unknown) => {
      throw blameNamedPlace(error, 'learned-unwritten', place);
    });
  }
  return result.reading;
}
