/** The rounds of measuring and turning: a new one, what was turned after it, and what all of them teach. */
import { joinFilmFindings, learnFilm } from '../application/live/learn-film.ts';
import { assumeFromFindings, takeIntoHouse } from '../application/pair/learn-house.ts';
import { judgeTurnsMade } from '../application/turns/judge-turns-made.ts';
import type { TurnedRound } from '../application/turns/find-picture-moved.ts';
import { moveAdjustments, moveAdjustmentsBack } from '../application/turns/move-adjustments.ts';
import { takeLearned } from '../application/turns/take-learned.ts';
import type { Outcome } from '../contract/failures.ts';
import { isPast, photographsOfRound } from '../contract/photographs-of-round.ts';
import type { Shot } from '../contract/shots.ts';
import { photographsOf, type Round, type TurnMade, type Workspace } from '../contract/workspace.ts';
import type { Engine, JobOptions } from '../engine/engine.ts';
import type { MeasureRequest } from '../engine/jobs.ts';
import { pixelsPerHeight, plainLens } from '../kernel/view.ts';
import type { House } from '../record/house.ts';
import { judgeOverall } from '../record/judge-reading.ts';
import type { HouseFindings } from '../record/house-findings.ts';
import type { LearnedRecord } from '../record/learned.ts';
import type { Reading, UnwordedReading } from '../record/reading.ts';
import type { PhotographRole } from '../record/roles.ts';
import { TERM_FIELDS } from '../record/term-fields.ts';
import { translateFailure } from '../wording/failures.ts';
import { translateReading } from '../wording/reading.ts';
import type { CurrentState } from './current-state.ts';
import { FailedWork } from './job-list.ts';
import type { PhotographStore } from './photograph-store.ts';
import type { ReadingFacts, ReadingStore } from './reading-store.ts';
import type { StoredState } from './stored-state.ts';

export interface RoundServiceOptions {
  readonly state: CurrentState;
  readonly photographs: PhotographStore;
  readonly readings: ReadingStore;
  readonly engine: Engine;
  readonly softwareVersion: string;
  readonly now: () => Date;
}

export class RoundService {
  readonly #options: RoundServiceOptions;

  constructor(options: RoundServiceOptions) {
    this.#options = options;
  }

  /** Measures the photographs as they lie in their slots now; what is added meanwhile waits for the next round. */
  start(): Outcome<{ job: number }> {
    const { state } = this.#options;
    const { shots, rounds, past_round } = state.now;
    // Those of an earlier round are measured again where there are no others.
    const present = shots.filter((shot) => !isPast(shot, rounds, past_round));
    const photographs = photographsOfRound(present, rounds) ?? photographsOfRound(shots, rounds);
    if (!photographs) return fail('shots-missing');
    if (state.jobs.isRunning('measure')) return fail('already-measuring');
    const work = async (options: JobOptions) => {
      const { house } = state.now;
      await this.#measure(photographs, options);
      // Somebody has described the house meanwhile.
      if (state.now.house !== house) await this.#followHouse(options);
    };
    return { ok: true, value: { job: state.jobs.start('measure', work) } };
  }

  /**
   * Called when the house has changed: the last round is measured again in its place, so that limits and advice are those of
   * the house as it is now. A round that is in the logbook, or after which something was turned, stays as it was.
   */
  followHouse(): void {
    const { state } = this.#options;
    if (!state.jobs.isRunning('measure') && this.#findFollowing())
      state.jobs.start('measure', (options) => this.#followHouse(options));
  }

  async #followHouse(options: JobOptions): Promise<void> {
    const { state } = this.#options;
    for (let house: House | null | undefined; state.now.house !== house; ) {
      house = state.now.house;
      const following = this.#findFollowing();
      if (following) await this.#measure(following.photographs, options, following.round);
    }
  }

  #findFollowing(): { readonly round: Round; readonly photographs: readonly Shot[] } | undefined {
    const { rounds, shots } = this.#options.state.now;
    const round = rounds.at(-1);
    if (round?.outcome !== 'measured' || round.kept_as || (round.turns_made?.length ?? 0) > 0) return undefined;
    const measured = new Set([...Object.values(round.shots), ...(round.repeats ?? []).map(({ sha256 }) => sha256)]);
    const photographs = shots.filter(({ sha256 }) => measured.has(sha256));
    return photographs.length === measured.size ? { round, photographs } : undefined;
  }

  /** `instead`: the round whose place it takes. */
  async #measure(photographs: readonly Shot[], options: JobOptions, instead?: Round): Promise<void> {
    const { engine, readings, state, now } = this.#options;
    const earlier = state.now.rounds.filter((round) => round !== instead);
    const house = state.now.house && assumeFromFindings(state.now.house, findingsOf(earlier));
    const set: MeasuredSet = { photographs, house };
    const request = await this.#request(set, state.aspect);
    const taught = await this.#teach(await engine.run('measure', request, options), earlier, options);
    const reading = translateReading(taught.reading);
    options.signal?.throwIfAborted();
    // Photographs that were refused use up no round.
    const last = state.now.rounds.at(-1);
    const refused = last?.outcome === 'refused' && !last.kept_as && !last.turns_made ? last.number : undefined;
    const number = await readings.add(reading, describeRequest(set, request), instead?.number ?? refused);
    const named = nameShots(set.photographs);
    const after_turns = await this.#judgeTurns(state.now.rounds, number, reading, state.now.house);
    const house_findings = this.#learnHouse(reading, set, request);
    const round = describeRound(reading, { number, at: now().toISOString(), ...named, after_turns, house_findings });
    const kept = await state.change((before) => ({
      ...before,
      ...(taught.record && { learned: { ...learnedOf(before), now: taught.record } }),
      rounds: [...before.rounds.filter((other) => other.number !== number), round],
    }));
    if (!kept.ok) throw new FailedWork(kept.failure);
  }

  async #request({ photographs, house }: MeasuredSet, aspect: number): Promise<MeasureRequest> {
    const { softwareVersion } = this.#options;
    const of = (role: PhotographRole) => photographs.filter(({ slot }) => slot === role);
    const [left, right, closing] = [of('left-lens'), of('right-lens'), of('closing')];
    const wander_px = combineWander(left[0], right[0]);
    const closingWander_px = combineWander(left[0], closing[0]);
    return {
      photographs: await Promise.all(
        photographs.map(async (shot) => ({ role: shot.slot, path: await this.#pathOf(shot), name: shot.name })),
      ),
      ...(house ? { house } : { aspect }),
      ...(wander_px ? { wander_px } : {}),
      ...(closingWander_px ? { closingWander_px } : {}),
      softwareVersion,
    };
  }

  /** What the photographs have shown, and what the frames of live shots have shown of the film beside them. */
  #learnHouse(reading: Reading, { photographs }: MeasuredSet, { house }: MeasureRequest): HouseFindings | undefined {
    if (reading.outcome === 'refused') return undefined;
    const found = reading.house_findings;
    const frames = photographs.flatMap((shot) => shot.frames ?? []);
    const { width_px, height_px } = reading.shots[0]!;
    const view = { photoFromChart: reading.evidence.photo_from_chart.left, lens: plainLens(width_px, height_px) };
    const film = learnFilm(frames, pixelsPerHeight(view), house, reading.house.aspect);
    const joined = joinFilmFindings(found?.film, film);
    return joined ? { film: joined, glasses: found?.glasses ?? null } : found;
  }

  async #pathOf({ sha256, name }: Shot): Promise<string> {
    const path = await this.#options.photographs.find(sha256);
    if (path === undefined) throw new FailedWork(translateFailure('photograph-missing', { name }));
    return path;
  }

  async noteTurns(number: number, turns_made: TurnMade[]): Promise<Outcome<Workspace>> {
    const { state } = this.#options;
    if (!state.now.rounds.some((round) => round.number === number)) return fail('no-such-round');
    const noted = noteIn(state.now.rounds, number, turns_made);
    const before = state.now.rounds.find((round) => round.number === number)!.turns_made ?? [];
    const was = state.now.house;
    const house = was && moveAdjustments(moveAdjustmentsBack(was, before), turns_made);
    // The round after it has been measured already where somebody notes late, or corrects what was noted.
    const next = noted.find((round) => round.number > number && round.outcome === 'measured');
    const reading = next && (await this.#options.readings.read(next.number));
    const after_turns = next && reading ? await this.#judgeTurns(noted, next.number, reading, house) : undefined;
    const kept = await state.change((now) => ({
      ...now,
      house: now.house === was ? house : now.house,
      rounds: noteIn(now.rounds, number, turns_made).map((round) =>
        after_turns !== undefined && round.number === next!.number ? { ...round, after_turns } : round,
      ),
    }));
    // What the note teaches counts in the advice of the round after it.
    if (next && kept.ok) this.followHouse();
    return kept;
  }

  /** What the turns since the last measured round did; null where none were noted or nothing can be compared. */
  async #judgeTurns(
    rounds: readonly Round[],
    number: number,
    after: Reading,
    house: House | null,
  ): Promise<RoundOutcome> {
    const last = rounds.findLast((round) => round.number < number && round.outcome === 'measured');
    if (!last || after.outcome === 'refused') return null;
    const made = turnsBetween(rounds, last.number, number);
    const before = made.length > 0 ? await this.#options.readings.read(last.number) : undefined;
    if (before?.outcome !== 'measured') return null;
    // What a turn does may depend on where it began.
    const asAdvised = house && moveAdjustmentsBack(house, made);
    return judgeTurnsMade(before, after, asAdvised, made) as RoundOutcome;
  }

  async takeFindings(): Promise<Outcome<Workspace>> {
    return this.#options.state.change((now) => ({
      ...now,
      house: now.house && takeIntoHouse(now.house, findingsOf(now.rounds)),
      rounds: now.house
        ? now.rounds.map((round) => (round.house_findings ? { ...round, house_findings: null } : round))
        : now.rounds,
    }));
  }

  /** With advice by what the earlier rounds have shown of the adjustments, where turns were noted between them. */
  async #teach(
    reading: UnwordedReading,
    earlier: readonly Round[],
    options: JobOptions,
  ): Promise<{ readonly reading: UnwordedReading; readonly record?: LearnedRecord }> {
    const { house } = this.#options.state.now;
    if (reading.outcome === 'refused' || !house?.attachment) return { reading };
    const { saved, until } = learnedOf(this.#options.state.now);
    const before = await this.#listTaught(
      reading,
      earlier.filter(({ number }) => number >= until),
    );
    const known = saved?.house === house.name ? saved : undefined;
    if (!known && before.rounds.every(({ made }) => made.length === 0) && before.made.length === 0) return { reading };
    const result = await this.#options.engine.run(
      'learn',
      { reading, ...before, house, positionsFollow: true, saved: known },
      options,
    );
    return result.outcome === 'refused' ? { reading } : { reading: result.reading, record: result.record };
  }

  /** The rounds before a reading that belong to it: of the same house, with other photographs, eyes not swapped. */
  async #listTaught(
    { house, shots }: MeasuredOutcome,
    earlier: readonly Round[],
  ): Promise<{ readonly rounds: TurnedRound[]; readonly made: TurnMade[] }> {
    const found: { readonly reading: MeasuredOutcome; readonly turnedAfter: TurnMade[] }[] = [];
    let taken = new Set(shots.map(({ sha256 }) => sha256));
    let turned: TurnMade[] = [];
    for (const round of earlier.toReversed()) {
      turned = [...(round.turns_made ?? []), ...turned];
      // Photographs that were measured again count as they were measured last.
      if (round.outcome === 'refused' || photographsOf(round).some((sha256) => taken.has(sha256))) continue;
      const reading = await this.#options.readings.read(round.number);
      if (reading?.outcome !== 'measured' || reading.eyes.assignment === 'swapped') break;
      if (reading.house.name !== house.name || reading.house.aspect !== house.aspect) break;
      found.unshift({ reading, turnedAfter: turned });
      turned = [];
      taken = new Set(photographsOf(round));
    }
    return {
      rounds: found.map(({ reading }, i) => ({ reading, made: found[i - 1]?.turnedAfter ?? [] })),
      made: found.at(-1)?.turnedAfter ?? [],
    };
  }

  async takeLearned(): Promise<Outcome<Workspace>> {
    const { readings, state } = this.#options;
    const last = state.now.rounds.findLast(({ outcome }) => outcome === 'measured');
    const reading = last && (await readings.read(last.number));
    const changed = await state.change((now) => {
      if (!now.house || reading?.outcome !== 'measured' || !reading.learning) return now;
      const { now: record } = learnedOf(now);
      return {
        ...now,
        house: takeLearned(now.house, reading.learning.adjustments, reading.house.aspect),
        learned: { saved: record, now: record, until: last!.number },
      };
    });
    this.followHouse();
    return changed;
  }

  async forgetLearned(): Promise<Outcome<Workspace>> {
    const { state } = this.#options;
    const until = state.now.rounds.at(-1)?.number ?? 0;
    const changed = await state.change((now) => ({ ...now, learned: { saved: null, now: null, until } }));
    this.followHouse();
    return changed;
  }
}

function learnedOf({ learned }: StoredState): NonNullable<StoredState['learned']> {
  return learned ?? { saved: null, now: null, until: 0 };
}

/** What the rounds have shown of film and glasses, and no house has yet; photographs that were measured again show it once. */
function findingsOf(rounds: readonly Round[]): HouseFindings[] {
  const bySet = new Map<string, HouseFindings>();
  for (const { shots, repeats = [], house_findings } of rounds) {
    const photographs = [...Object.values(shots), ...repeats.map(({ sha256 }) => sha256)];
    if (house_findings) bySet.set(photographs.toSorted().join(), house_findings);
  }
  return [...bySet.values()];
}

type MeasuredOutcome = Extract<Reading | UnwordedReading, { outcome: 'measured' }>;

type RoundOutcome = NonNullable<Round['after_turns']> | null;

interface MeasuredSet {
  /** In the order in which they were taken. */
  readonly photographs: readonly Shot[];
  readonly house: StoredState['house'];
}

function describeRequest({ photographs }: MeasuredSet, request: MeasureRequest): ReadingFacts {
  const { house = null, aspect = null, wander_px = null, closingWander_px: closing_wander_px = null } = request;
  const shots = photographs.map(({ slot, name, sha256 }) => ({ role: slot, name, sha256 }));
  return { house, aspect, wander_px, closing_wander_px, shots };
}

/**
 * Standard uncertainty of how the two pictures lie to each other, photo px: those of their mean places together. Shots
 * of two frames, which show no correlation, have s / sqrt(n). Null for two files.
 */
function combineWander(first: Shot | undefined, second: Shot | undefined): { x: number; y: number } | null {
  if (!first || !second) return null;
  const wanders = [first, second].flatMap(({ frames }) =>
    frames?.wander_px ? [frames.mean_u_px ?? divide(frames.wander_px, Math.sqrt(frames.count))] : [],
  );
  if (wanders.length === 0) return null;
  const along = (axis: 'x' | 'y') => Math.hypot(...wanders.map((wander) => wander[axis]));
  return { x: along('x'), y: along('y') };
}

function divide({ x, y }: { x: number; y: number }, by: number): { x: number; y: number } {
  return { x: x / by, y: y / by };
}

/** Of each role the first, and its repeats. */
function nameShots(photographs: readonly Shot[]): Pick<RoundFacts, 'shots' | 'repeats'> {
  const firsts = photographs.filter((shot, i) => photographs.findIndex(({ slot }) => slot === shot.slot) === i);
  const repeats = photographs.filter((shot) => !firsts.includes(shot));
  return {
    shots: Object.fromEntries(firsts.map(({ slot, sha256 }) => [slot, sha256])),
    ...(repeats.length > 0 && { repeats: repeats.map(({ slot: role, sha256 }) => ({ role, sha256 })) }),
  };
}

function noteIn(rounds: readonly Round[], number: number, turns_made: TurnMade[]): Round[] {
  return rounds.map((round) => (round.number === number ? { ...round, turns_made } : round));
}

/** Everything that was noted as turned after the first round and before the second. */
export function turnsBetween(rounds: readonly Round[], first: number, second: number): TurnMade[] {
  return rounds.flatMap(({ number, turns_made }) => (number >= first && number < second ? (turns_made ?? []) : []));
}

function fail(code: 'shots-missing' | 'already-measuring' | 'no-such-round'): Outcome<never> {
  return { ok: false, failure: translateFailure(code) };
}

interface RoundFacts {
  readonly number: number;
  /** When it was measured; the reading itself has no clock. */
  readonly at: string;
  readonly shots: Round['shots'];
  readonly repeats?: NonNullable<Round['repeats']>;
  readonly after_turns: NonNullable<Round['after_turns']> | null;
  readonly house_findings: HouseFindings | undefined;
}

/** A reading -> its line in the list of rounds. */
function describeRound(reading: Reading, { house_findings, ...facts }: RoundFacts): Round {
  const common = { ...facts, outcome: reading.outcome, turns_made: null };
  if (reading.outcome === 'refused') {
    return {
      ...common,
      sentence: reading.refusal.message,
      terms: null,
      worst_vertical_pct: null,
      predicted_worst_vertical_pct: null,
      verdict: null,
    };
  }
  const { misalignment, predicted_after } = reading;
  const { value, u } = misalignment.worst_vertical_pct;
  return {
    ...common,
    sentence: reading.sentence,
    terms: Object.fromEntries(TERM_FIELDS.map((field) => [field, misalignment[field]])) as Round['terms'],
    worst_vertical_pct: { value, u },
    predicted_worst_vertical_pct: predicted_after.worst_vertical_pct,
    verdict: judgeOverall(reading),
    ...(house_findings && { house_findings }),
  };
}
