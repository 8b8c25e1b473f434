/** The advised turns as steps: which are done, which comes next, and what a turn is called. */
import type { Round, TurnMade } from '../../../../contract/workspace.ts';
import type { MeasuredReading, ReadingTrialTurn, ReadingTurn } from '../../../../record/reading.ts';

export interface Step {
  readonly turn: ReadingTurn | ReadingTrialTurn;
  readonly isTrial: boolean;
  /** What was noted as made; null while it is to be done. */
  readonly made: TurnMade | null;
}

/** Of trial turns only the first: two at once could not be told apart afterwards. */
export function listSteps({ turns, trial_turns }: MeasuredReading, { turns_made }: Round): Step[] {
  const byOrder = <T extends { order: number }>(list: readonly T[]) => list.toSorted((a, b) => a.order - b.order);
  const advised = turns.length > 0 ? byOrder(turns) : byOrder(trial_turns).slice(0, 1);
  return advised.map((turn) => ({
    turn,
    isTrial: turns.length === 0,
    made: turns_made?.find(({ adjustment }) => adjustment === turn.adjustment) ?? null,
  }));
}

export function nextStep(steps: readonly Step[]): Step | undefined {
  return steps.find(({ made }) => made === null);
}

/** As the advice says it. */
export function asAdvised({ turn }: Step): TurnMade {
  return { adjustment: turn.adjustment, direction: turn.direction, turns: turn.turns };
}

/** What is noted once `steps` have been made as advised, besides what was noted before. */
export function noteSteps(noted: readonly TurnMade[] | null, steps: readonly Step[]): TurnMade[] {
  const before = (noted ?? []).filter(({ adjustment }) => !steps.some(({ turn }) => turn.adjustment === adjustment));
  return [...before, ...steps.map(asAdvised)];
}

/** Whether a note says another amount or way than the advice. */
export function differsFromAdvice({ turn, made }: Step): boolean {
  return made !== null && (made.direction !== turn.direction || Math.abs(made.turns - turn.turns) > 1e-6);
}

export function isByHand(turn: ReadingTurn | ReadingTrialTurn): turn is ReadingTurn & { degrees: object } {
  return 'degrees' in turn && turn.degrees !== null;
}

/** Amount to go past the end first, where the play asks for it. */
export function overshootOf(turn: ReadingTurn | ReadingTrialTurn): number {
  return 'approach' in turn ? (turn.approach?.overshoot_turns ?? 0) : 0;
}

export function signedTurns({ direction, turns }: Pick<TurnMade, 'direction' | 'turns'>): number {
  return direction === 'clockwise' ? turns : -turns;
}

/** "on top of the attachment above the upper port" of "upper screw, on top of the attachment above the upper port". */
export function placeInLabel(label: string): string {
  const name = label.split(/[,;(]/)[0] ?? '';
  return label.slice(name.length).replace(/^[\s,;(]+|[\s)]+$/g, '');
}
