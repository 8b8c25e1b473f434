import { describe, expect, it } from 'vitest';
import { TERMS, type TermVector } from '../../src/geometry/misalignment.ts';
import { createMatrix } from '../../src/kernel/linear-algebra.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { limitTerms } from '../../src/limits/tolerances.ts';
import type { House } from '../../src/record/house.ts';
import { describeOptics, movePictures, termVector } from '../../src/turns/effects.ts';
import { type FollowedTurn, TurnsFollower, type TurnsToFollow } from '../../src/turns/follow-turns.ts';
import { covarianceAsStated, makeLever } from '../../src/turns/turns-problem.ts';
import { drawAttachment } from '../bench/simulated-attachment.ts';
import { FRAME_U, turnAll } from '../bench/simulated-turning.ts';
import { ASPECT, meridian } from '../limits/reading-of.ts';
import { houseWith, mirror, stated } from './house-of.ts';

function optionsFor(house: House, steps?: readonly string[]): TurnsToFollow {
  const optics = describeOptics(house);
  const levers = house.attachment!.adjustments.map((adjustment) => makeLever(adjustment, optics));
  return {
    levers,
    steps: steps ?? levers.map(({ adjustment }) => adjustment.id),
    wanted: TERMS,
    limits: limitTerms(house, ASPECT).terms,
    aspect: ASPECT,
    keepInPlace: 'pair-centre',
    between: covarianceAsStated,
  };
}

const house = houseWith([
  mirror('upper', 'right', 'down'),
  mirror('lower', 'left', 'up'),
  stated('roll', 'right', { rotation_deg: -0.6 }),
]);
const FRAME_MS = 1000 / 15;

/** A picture that is turned by hand, in turns of each adjustment; frames have the noise of a camera's. */
class Booth {
  readonly follower: TurnsFollower;
  readonly #options: TurnsToFollow;
  readonly #random: RandomSource;
  readonly #start: TermVector;
  readonly turned: Record<string, number> = {};
  at_ms = 0;
  shift = { x: 0, y: 0 };
  said: FollowedTurn | undefined;

  constructor(options: TurnsToFollow, start: Partial<TermVector>, seed = 1) {
    this.#options = options;
    this.follower = new TurnsFollower(options);
    this.#random = createRandom(seed);
    this.#start = termVector(start);
  }

  frame(): FollowedTurn {
    this.at_ms += FRAME_MS;
    const moved = this.#options.levers.map(({ adjustment, movement }) =>
      movePictures(movement, this.turned[adjustment.id] ?? 0),
    );
    const covariance = createMatrix(8, 8);
    const terms = TERMS.map((term, k) => {
      covariance.data[9 * k] = FRAME_U[k]! ** 2;
      const change = moved.reduce((sum, { left, right }) => sum + right[term] - left[term], 0);
      return this.#start[term] + change + FRAME_U[k]! * this.#random.normal();
    });
    const middle = (term: 'horizontalOffset' | 'verticalOffset') =>
      moved.reduce((sum, { left, right }) => sum + (left[term] + right[term]) / 2, 3e-4 * this.#random.normal());
    this.said = this.follower.add(
      {
        terms: Object.fromEntries(TERMS.map((term, k) => [term, terms[k]])) as TermVector,
        covariance,
        middle: { x: middle('horizontalOffset') + this.shift.x, y: middle('verticalOffset') + this.shift.y },
      },
      this.at_ms,
    );
    return this.said;
  }

  /** Frames until `is`, or for `seconds`; how long it took. */
  wait(seconds: number, is: (said: FollowedTurn) => boolean = () => false): number {
    const began_ms = this.at_ms;
    while (this.at_ms - began_ms < 1000 * seconds) if (is(this.frame())) break;
    return (this.at_ms - began_ms) / 1000;
  }

  turn(id: string, turns: number, seconds: number, is?: (said: FollowedTurn) => boolean): number {
    const frames = Math.round((1000 * seconds) / FRAME_MS);
    for (let i = 0; i < frames; i++) {
      this.turned[id] = (this.turned[id] ?? 0) + turns / frames;
      if (is?.(this.frame())) return ((i + 1) * FRAME_MS) / 1000;
      if (!is) this.frame();
    }
    return seconds;
  }
}

const isSettled = ({ state }: FollowedTurn) => state !== 'settling';

describe('what is left to turn', () => {
  it('is what the advice would say, counts down to nothing, and the next adjustment comes up', () => {
    const booth = new Booth(optionsFor(house, ['upper', 'roll']), { verticalOffset: 0.006, rotation: 0.004 });
    booth.wait(2, isSettled);
    const { adjustment, whole, left } = booth.said!;
    expect([adjustment, booth.said!.state]).toEqual(['upper', 'waiting']);
    // Clockwise brings the right-eye picture down by 3.8 % a turn.
    expect(whole).toBeGreaterThan(0.14);
    expect(Math.abs(left!.value - whole)).toBeLessThan(4 * left!.u);
    booth.turn('upper', 0.5 * whole, 1);
    expect(booth.said!.state).toBe('turning');
    expect(Math.abs(booth.said!.left!.value - 0.5 * whole)).toBeLessThan(0.01);
    booth.turn('upper', 0.5 * whole, 1);
    booth.wait(0.3);
    expect(booth.said!.state).toBe('at-mark');
    booth.wait(3, (said) => said.adjustment === 'roll' && isSettled(said));
    expect(booth.said!.adjustment).toBe('roll');
    expect(booth.said!.made[0]!.adjustment).toBe('upper');
    expect(booth.said!.made[0]!.turns).toBeCloseTo(whole, 2);
  });

  it('has its zero where the picture is right, though an effect is half of what the House says', () => {
    const options = optionsFor(house, ['upper']);
    const weak = houseWith([mirror('upper', 'right', 'down', { lever_mm: 320 })]);
    const booth = new Booth({ ...optionsFor(weak), levers: optionsFor(weak).levers }, { verticalOffset: 0.006 });
    const follower = new TurnsFollower(options);
    // The follower believes in the strong screw; the picture answers to the weak one.
    Object.assign(booth, { follower });
    booth.wait(2, isSettled);
    const { whole } = booth.said!;
    booth.turn('upper', 2 * whole, 3);
    booth.wait(0.3);
    expect(booth.said!.state).toBe('at-mark');
    expect(Math.abs(booth.said!.left!.value)).toBeLessThan(booth.said!.tolerance);
  });

  it('goes past the goal and comes back clockwise where there is play', () => {
    const withPlay = houseWith([mirror('upper', 'right', 'down', { backlash_turns: 1 / 16 })]);
    const booth = new Booth(optionsFor(withPlay), { verticalOffset: -0.006 });
    booth.wait(2, isSettled);
    const { whole, isPast, left } = booth.said!;
    expect(isPast).toBe(true);
    expect(left!.value).toBeCloseTo(whole - 1 / 16, 2);
    booth.turn('upper', whole - 1 / 16, 2);
    booth.wait(0.2);
    expect(booth.said!.isPast).toBe(false);
    expect(booth.said!.left!.value).toBeCloseTo(1 / 16, 2);
    booth.turn('upper', 1 / 16, 1);
    booth.wait(0.3);
    expect(booth.said!.state).toBe('at-mark');
  });

  it('goes through all again while what one does beside has put another out', () => {
    const beside = houseWith([mirror('upper', 'right', 'down'), stated('roll', 'right', { rotation_deg: -0.6 })]);
    const options = optionsFor(beside);
    const truth = optionsFor(
      houseWith([mirror('upper', 'right', 'down'), stated('roll', 'right', { rotation_deg: -0.6, vertical_pct: 0.5 })]),
    );
    const booth = new Booth(truth, { verticalOffset: 0.006, rotation: 0.008 });
    Object.assign(booth, { follower: new TurnsFollower(options) });
    const order: string[] = [];
    for (let step = 0; step < 3 && booth.said?.state !== 'finished'; step++) {
      booth.wait(3, (said) => said.state === 'waiting' || said.state === 'finished');
      if (booth.said!.state !== 'waiting') break;
      const id = booth.said!.adjustment!;
      order.push(id);
      booth.turn(id, booth.said!.whole, 1);
      booth.wait(2, ({ state }) => state === 'settling');
    }
    booth.wait(3, ({ state }) => state === 'finished');
    expect(order).toEqual(['upper', 'roll', 'upper']);
    expect(booth.said!.state).toBe('finished');
  });
});

describe('what is said of a hand that does something else', () => {
  it('says within a second of motion that it goes the wrong way', () => {
    const booth = new Booth(optionsFor(house, ['upper']), { verticalOffset: 0.006 });
    booth.wait(2, isSettled);
    const took = booth.turn('upper', -0.15, 2, ({ state }) => state === 'wrong-way');
    expect(booth.said!.state).toBe('wrong-way');
    expect(took).toBeLessThan(1);
  });

  it('names another adjustment within a second of motion', () => {
    const booth = new Booth(optionsFor(house, ['upper']), { verticalOffset: 0.006 });
    booth.wait(2, isSettled);
    const took = booth.turn('roll', 0.2, 2, ({ state }) => state === 'other-adjustment');
    expect(booth.said).toMatchObject({ state: 'other-adjustment', other: 'roll' });
    expect(took).toBeLessThan(1);
    booth.turn('roll', -booth.turned.roll!, 1);
    booth.wait(1);
    expect(booth.said!.state).toMatch(/waiting|turning/);
  });

  it('tells two that do the same by the picture they move', () => {
    const booth = new Booth(optionsFor(house, ['upper']), { verticalOffset: 0.015 });
    booth.wait(2, isSettled);
    booth.turn('lower', 0.3, 2, ({ state }) => state === 'other-adjustment');
    expect(booth.said).toMatchObject({ state: 'other-adjustment', other: 'lower' });
  });

  it('is not led astray by a camera that is bumped', () => {
    const booth = new Booth(optionsFor(house, ['upper']), { verticalOffset: 0.006 });
    booth.wait(2, isSettled);
    booth.shift = { x: 0.02, y: -0.013 };
    booth.wait(2, ({ state }) => state === 'other-adjustment');
    expect(booth.said!.state).not.toBe('other-adjustment');
    expect(booth.said!.left!.value).toBeCloseTo(booth.said!.whole, 2);
  });

  it('says after some seconds that nothing follows', () => {
    const booth = new Booth(optionsFor(house, ['upper']), { verticalOffset: 0.006 });
    booth.wait(2, isSettled);
    expect(booth.said!.state).toBe('waiting');
    const took = booth.wait(6, ({ state }) => state === 'idle');
    expect(took).toBeGreaterThan(2);
    expect(booth.said!.state).toBe('idle');
  });

  it('goes on by itself behind a gap in which nothing was seen', () => {
    const booth = new Booth(optionsFor(house, ['upper']), { verticalOffset: 0.006 });
    booth.wait(2, isSettled);
    const { whole } = booth.said!;
    booth.turn('upper', 0.5 * whole, 1);
    booth.at_ms += 5000;
    booth.frame();
    expect(booth.said!.left!.value).toBeCloseTo(0.5 * whole, 2);
    expect(booth.said!.adjustment).toBe('upper');
  });
});

describe('a hand that follows the needle', () => {
  it('ends within the limits, whatever the effects are (20 attachments, 30 % off)', () => {
    const random = createRandom(7);
    const options = optionsFor({ ...meridian() });
    for (let i = 0; i < 20; i++) {
      const attachment = drawAttachment({ name: '', off: 0.3, reversed: false, unknown: false }, random);
      const { turns, last } = turnAll(attachment, options);
      expect(last.state).toBe('finished');
      for (const { left, allowed } of turns) expect(Math.abs(left)).toBeLessThanOrEqual(allowed);
      for (const [k, term] of TERMS.slice(0, 3).entries()) {
        expect(Math.abs(attachment.terms[k]!)).toBeLessThanOrEqual(options.limits[term]);
      }
    }
  });
});
