/**
 * Whole readings of two pairs of photographs that tests/reference/make_golden.py rendered, with the truth that it
 * computed: neither shares code with the program.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { measurePhotographs } from '../../src/application/measure-photographs.ts';
import type { UnwordedReading } from '../../src/record/reading.ts';
import { meridian } from '../limits/reading-of.ts';
import { photographsOf } from './name-photographs.ts';

/** Largest errors, absolute: about three times what was found when the pairs were made. 2.8 megapixels, not 12. */
const LIMITS = {
  vertical_offset_pct: 0.0008,
  horizontal_offset_pct: 0.001,
  rotation_deg: 0.0008,
  size_pct: 0.0012,
  stretch_pct: 0.0012,
  shear_pct: 0.0015,
  keystone_h_pct: 0.0015,
  keystone_v_pct: 0.003,
} as const;
type Term = keyof typeof LIMITS;
const TERMS = Object.keys(LIMITS) as Term[];

interface Truth {
  readonly misalignment: Readonly<Record<Term | 'worst_vertical_pct', number>>;
  readonly crosstalk_left_pct: number;
  readonly crosstalk_right_pct: number;
  readonly assignment: 'correct' | 'swapped';
}

/** Nothing moves in these pairs, as with slides: what film may do has no place in their uncertainty. */
const STILL = { ...meridian(), film: { ...meridian().film, motion_um: 0 }, glasses: { wedge_arcmin: 0 } };

const pathOf = (name: string) => fileURLToPath(new URL(`../reference/golden/${name}`, import.meta.url));

describe.each(['pair-correct', 'pair-swapped'])('%s, from an independent renderer', (name) => {
  const truth = JSON.parse(readFileSync(pathOf(`${name}/truth.json`), 'utf8')) as Truth;
  let reading: Extract<UnwordedReading, { outcome: 'measured' }>;

  beforeAll(async () => {
    const read = await measurePhotographs({
      photographs: photographsOf(pathOf(`${name}/left.jpg`), pathOf(`${name}/right.jpg`)),
      house: STILL,
      softwareVersion: '0',
    });
    if (read.outcome !== 'measured') throw new Error(`refused: ${read.refusal.code}`);
    reading = read;
  });

  it.each(TERMS)('%s is true within its uncertainty and the limit', (term) => {
    // Its target is printed without a fault: what repeats is all that is uncertain.
    const { value, u_repeat } = reading.misalignment[term];
    const error = Math.abs(value - truth.misalignment[term]);
    expect(error).toBeLessThan(LIMITS[term]);
    expect(error).toBeLessThan(4 * u_repeat!);
    // An uncertainty so large that it excuses anything is no uncertainty.
    expect(u_repeat).toBeLessThan(LIMITS[term]);
  });

  it('finds the worst vertical error', () => {
    const { value, u } = reading.misalignment.worst_vertical_pct;
    const error = Math.abs(Math.abs(value) - truth.misalignment.worst_vertical_pct);
    expect(error).toBeLessThan(0.002);
    expect(error).toBeLessThan(4 * u);
  });

  it('says which lens shows which picture', () => expect(reading.eyes.assignment).toBe(truth.assignment));

  it.each(['crosstalk_left_pct', 'crosstalk_right_pct'] as const)('%s is true', (field) => {
    const { value, u } = reading.eyes[field]!;
    const error = Math.abs(value - truth[field]);
    expect(error).toBeLessThan(0.04 * truth[field]);
    expect(error).toBeLessThan(4 * u);
  });

  it('finds every mark, and that nothing moved', () => {
    expect(reading.marks.left + reading.marks.right).toBe(95);
    expect(reading.steadiness!.movement_px.value).toBeLessThan(0.03);
  });
});
