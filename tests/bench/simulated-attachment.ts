/**
 * An attachment that answers a hand: not what the House says of it, but what it is. Its effects are written here from the
 * optics anew, and shared with nothing that advises.
 *
 * Effects: right minus left per clockwise turn, in the order vertical, horizontal (ih), rotation (rad), size, stretch,
 * shear, keystone h, keystone v (fractions). A screw carries its picture with one flank of its thread: turned back, it
 * moves nothing until the play is taken up.
 */
import type { RandomSource } from '../../src/kernel/random.ts';

export interface SimulatedScrew {
  readonly id: string;
  readonly effect: readonly number[];
  readonly play: number;
  /** Where the part stands, and where the thread holds it: between `at` and `at + play`. */
  thread: number;
  part: number;
}

export interface ConvergenceRow {
  readonly name: string;
  /** Standard deviation of the effects, as a part of them. */
  readonly off: number;
  readonly reversed: boolean;
  readonly unknown: boolean;
}

/** Into each of vertical, horizontal and rotation, as a part of what the adjustment does; a tenth of it bends the picture. */
const COUPLING = 0.06;
const BENDS = 0.1;
/** A hand is good to this part of a turn, either way. */
const HAND = 1 / 64;

/** The Meridian's attachment: two mirrors' screws, one for the roll, and the whole of it by hand. */
const THROW_M = 27;
const PICTURE_HEIGHT_M = 10.4 / 2.35;
const MIRROR = (2 * THROW_M * 0.5) / 160 / PICTURE_HEIGHT_M;
const SEPARATION = (0.375 * 25.4) / (20.95 / 2.35);
const NOMINAL: readonly { readonly id: string; readonly effect: readonly number[]; readonly play: number }[] = [
  { id: 'upper-screw', effect: [-MIRROR, 0, 0, 0, 0, 0, 0, 0], play: 1 / 16 },
  { id: 'lower-screw', effect: [-MIRROR, 0, 0, 0, 0, 0, 0, 0], play: 1 / 16 },
  { id: 'roll-screw', effect: [0.0005, 0.002, (-0.6 * Math.PI) / 180, 0, 0, 0, 0, 0], play: 1 / 8 },
  { id: 'whole-attachment', effect: [0, SEPARATION * 2 * Math.PI, 0, 0, 0, 0, 0, 0], play: 0 },
];
/** Where nobody knows what a screw does: four of them, one to move the picture aside. */
const UNDESCRIBED = [...NOMINAL.slice(0, 3), { id: 'side-screw', effect: [0, 0.03, 0, 0, 0, 0, 0, 0], play: 1 / 16 }];
/** What a unit of each term displaces, root mean square over a picture 2.35 wide, by plain integrals. */
const [MEAN_X2, MEAN_Y2] = [2.35 ** 2 / 12, 1 / 12];
const [MEAN_X4, MEAN_Y4] = [2.35 ** 4 / 80, 1 / 80];
const DISPLACEMENTS = [
  1,
  1,
  Math.sqrt(MEAN_X2 + MEAN_Y2),
  Math.sqrt(MEAN_X2 + MEAN_Y2),
  Math.sqrt(MEAN_X2 + MEAN_Y2),
  Math.sqrt(MEAN_X2 + MEAN_Y2),
  Math.sqrt(MEAN_X4 + MEAN_X2 * MEAN_Y2),
  Math.sqrt(MEAN_Y4 + MEAN_X2 * MEAN_Y2),
];

export interface SimulatedAttachment {
  readonly screws: readonly SimulatedScrew[];
  /** Right minus left as it truly is. */
  readonly terms: number[];
  readonly random: RandomSource;
}

export function drawAttachment(row: ConvergenceRow, random: RandomSource): SimulatedAttachment {
  const reversed = row.reversed ? Math.floor(random.between(0, NOMINAL.length - 1)) : -1;
  const screws = (row.unknown ? UNDESCRIBED : NOMINAL).map(({ id, effect, play }, index): SimulatedScrew => {
    // An effect is off by its row's part, but no screw does nothing at all.
    const gain = Math.max(0.2, 1 + row.off * Math.max(-2, Math.min(2, random.normal())));
    const sign = index === reversed || (row.unknown && random.uniform() < 0.5) ? -1 : 1;
    const strength = Math.hypot(...effect.map((v, k) => v * DISPLACEMENTS[k]!));
    // The whole attachment is turned by hand in parts of a degree: what it does beside is counted per turn alike.
    const beside = (k: number) => (COUPLING * (k < 3 ? 1 : BENDS) * strength * random.normal()) / DISPLACEMENTS[k]!;
    const own = effect.map((v, k) => gain * v + beside(k));
    return { id, effect: own.map((v) => sign * v), play: play * random.between(0, 2), thread: 0, part: 0 };
  });
  for (const screw of screws) screw.part = screw.thread + screw.play * random.uniform() * 0.5;
  const terms = [0.01, 0.015, 0.005, 0.0003, 0.0002, 0.0002, 0.0001, 0.0001].map((s) => s * random.normal());
  return { screws, terms, random };
}

/** The hand goes to the goal, past it by `overshoot` and back where it goes counter-clockwise. */
export function turnScrew(attachment: SimulatedAttachment, id: string, turns: number, overshoot: number): void {
  const screw = attachment.screws.find((each) => each.id === id);
  if (!screw) throw new RangeError(`no screw ${id}`);
  const hand = id === 'whole-attachment' ? 0.05 / 360 / 2 : HAND;
  const goal = screw.thread + turns + attachment.random.between(-hand, hand);
  for (const stop of turns < 0 && overshoot > 0 ? [goal - overshoot, goal] : [goal]) {
    moveThread(attachment, screw, stop);
  }
}

/** Turns a screw's thread; its part follows with the play, and the picture with the part. */
export function moveThread({ terms }: SimulatedAttachment, screw: SimulatedScrew, to: number): void {
  screw.thread = to;
  const part = Math.min(Math.max(screw.part, screw.thread), screw.thread + screw.play);
  screw.effect.forEach((v, k) => {
    terms[k]! += v * (part - screw.part);
  });
  screw.part = part;
}
