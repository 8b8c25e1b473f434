/** Situations in which turns are advised, made, learned, or of no use. */
import { judgeTurnsMade } from '../../src/application/turns/judge-turns-made.ts';
import { learnAndAdvise } from '../../src/application/turns/learn-from-rounds.ts';
import type { Round, TurnMade } from '../../src/contract/workspace.ts';
import type { House } from '../../src/record/house.ts';
import type { MeasuredReading } from '../../src/record/reading.ts';
import { translateReading } from '../../src/wording/reading.ts';
import { roundOf } from './situations.ts';

export const TURNS_SITUATIONS = [
  'trial',
  'trial-made',
  'leave-alone',
  'beyond',
  'eyes-first',
  'many-rounds',
  'other-way',
  'long-turns',
  'sideways',
] as const;
export type TurnsSituation = (typeof TURNS_SITUATIONS)[number];

export interface Work {
  readonly house: House;
  readonly readings: readonly MeasuredReading[];
  readonly rounds: readonly Round[];
}

type ReadSet = (set: string, house: House, from?: 'bare') => Promise<MeasuredReading>;

export async function stageTurns(situation: TurnsSituation, meridian: House, read: ReadSet): Promise<Work> {
  const single = async (set: string, house = meridian) => series(house, [await read(set, house)]);
  switch (situation) {
    case 'trial':
      return single('meridian-02-vertical', withKnob(meridian));
    case 'trial-made':
      return trialMade(meridian, read);
    case 'leave-alone':
      return single('meridian-01-aligned');
    case 'beyond':
      return single('meridian-05-size');
    case 'eyes-first':
      return single('meridian-07-swapped');
    case 'sideways':
      return single('meridian-03-horizontal');
    case 'long-turns':
      return single('meridian-02-vertical', withFinePitch(meridian));
    case 'many-rounds': {
      const sets = ['meridian-11-mixed', 'meridian-12-obstructed', 'meridian-13-dim-noisy', 'meridian-01-aligned'];
      const readings = [];
      for (const set of sets) readings.push(await read(set, meridian));
      return series(meridian, readings);
    }
    case 'other-way':
      // Without glasses: no ghost of the dim pictures tells what moved between the two photographs through them.
      return series(meridian, [
        await read('meridian-13-dim-noisy', meridian, 'bare'),
        await read('meridian-11-mixed', meridian, 'bare'),
      ]);
  }
}

async function trialMade(meridian: House, read: ReadSet): Promise<Work> {
  const house = withKnob(meridian);
  const readings = [await read('meridian-02-vertical', house), await read('meridian-12-obstructed', house)];
  return series(house, readings);
}

/** All turns are made as advised, but after the last round; each round teaches. */
function series(house: House, measured: readonly MeasuredReading[]): Work {
  const readings: MeasuredReading[] = [];
  const made: TurnMade[][] = [];
  for (const reading of measured) {
    const taught = teach(house, readings, made, reading);
    readings.push(taught);
    const { turns, trial_turns } = taught;
    made.push(
      (turns.length > 0 ? turns : trial_turns).map(({ adjustment, direction, turns: amount }) => ({
        adjustment,
        direction,
        turns: amount,
      })),
    );
  }
  const rounds = readings.map((reading, i): Round => {
    const before = readings[i - 1];
    return {
      ...roundOf(i + 1, reading),
      turns_made: i < readings.length - 1 ? made[i]! : null,
      after_turns: before ? judgeTurnsMade(before, reading, house, made[i - 1]!) : null,
    };
  });
  return { house, readings, rounds };
}

function teach(
  house: House,
  earlier: readonly MeasuredReading[],
  made: readonly TurnMade[][],
  reading: MeasuredReading,
): MeasuredReading {
  if (!made.some((turns) => turns.length > 0)) return reading;
  const rounds = earlier.map((each, i) => ({ reading: each, made: made[i - 1] ?? [] }));
  const taught = learnAndAdvise({ house, positionsFollow: true, rounds, reading, made: made.at(-1)! });
  if (taught.outcome === 'refused') throw new Error(`nothing is learned: ${taught.code}`);
  const worded = translateReading(taught.reading);
  if (worded.outcome === 'refused') throw new Error(worded.refusal.code);
  return worded;
}

type Adjustment = NonNullable<House['attachment']>['adjustments'][number];

function withAdjustments(house: House, change: (adjustments: readonly Adjustment[]) => Adjustment[]): House {
  const attachment = house.attachment!;
  return { ...house, attachment: { ...attachment, adjustments: change(attachment.adjustments) } };
}

/** Nobody knows what the one knob does that moves the pictures in height. */
const withKnob = (house: House): House =>
  withAdjustments(house, (adjustments) => [
    {
      kind: 'unknown',
      id: 'left-knob',
      label: 'knurled knob, at the right side as the projectionist sees it',
      moves: 'apart',
      affects: 'vertical',
      range_turns: 6,
      backlash_turns: 0,
      smallest_useful_turn: 0.03125,
    },
    ...adjustments.filter(({ kind }) => kind !== 'mirror-tilt'),
  ]);

/** Screws of so fine a pitch that more than a turn is needed, the other way round, with play. */
const withFinePitch = (house: House): House =>
  withAdjustments(house, (adjustments) =>
    adjustments.map((each) =>
      each.kind === 'mirror-tilt'
        ? { ...each, pitch_mm: 0.04, clockwise_moves: each.clockwise_moves === 'up' ? 'down' : 'up' }
        : each,
    ),
  );

export function isTurnsSituation(situation: string): situation is TurnsSituation {
  return TURNS_SITUATIONS.some((each) => each === situation);
}
