/** The whole job on the photographs of test-images, against the truth that lies beside each pair. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { measurePhotographs } from '../../src/application/measure-photographs.ts';
import { photographsOf } from './name-photographs.ts';
import { type UnwordedMeasured, TERM_FIELDS, reading as readingSchema } from '../../src/record/reading.ts';
import { translateReading } from '../../src/wording/reading.ts';
import type { TruthRecord } from '../../src/scene/truth-record.ts';
import { meridian } from '../limits/reading-of.ts';
import { folderName, IMAGE_SETS, TEST_IMAGES } from '../scene/test-image-sets.ts';

interface Outcome {
  readonly truth: TruthRecord;
  readonly reading: UnwordedMeasured;
}

const pathsOf = (folder: string) => ({
  leftPath: join(TEST_IMAGES, folder, 'left-lens.jpg'),
  rightPath: join(TEST_IMAGES, folder, 'right-lens.jpg'),
});

const setOf = (folder: string) => {
  const { leftPath, rightPath } = pathsOf(folder);
  return photographsOf(leftPath, rightPath);
};

async function measureSet(name: string): Promise<Outcome> {
  const folder = folderName(IMAGE_SETS.find((set) => set.name === name)!);
  const truth: TruthRecord = JSON.parse(readFileSync(join(TEST_IMAGES, folder, 'truth.json'), 'utf8'));
  const reading = await measurePhotographs({
    photographs: setOf(folder),
    house: meridian(),
    softwareVersion: '0.0.0',
  });
  if (reading.outcome !== 'measured') throw new Error(`${name}: ${JSON.stringify(reading.refusal)}`);
  return { truth, reading };
}

const measuring = new Map<string, Promise<Outcome>>();
/** Each pair is measured once for all tests. */
function outcomeOf(name: string): Promise<Outcome> {
  const known = measuring.get(name) ?? measureSet(name);
  measuring.set(name, known);
  return known;
}

/** Verdicts by code, the closest limit and the nearest seat first. */
const verdictOf = ({ findings }: UnwordedMeasured, code: string) => findings.find((f) => f.code === code)?.verdict;
const causeCodes = ({ causes }: UnwordedMeasured) => causes.map(({ code }) => code);

const names = IMAGE_SETS.map(({ name }) => name);

describe.each(names)('the pair "%s"', (name) => {
  it('every term lies within 4.5 of its standard uncertainty of the truth', async () => {
    const { truth, reading } = await outcomeOf(name);
    for (const field of TERM_FIELDS) {
      // The target of a simulated house is printed without a fault: what repeats is all that is uncertain.
      const { value, u, u_repeat } = reading.misalignment[field];
      expect(Math.abs(value - truth.misalignment[field].value) / u_repeat!, field).toBeLessThan(4.5);
      // And the uncertainty is worth the name: of a pair without a ghost it holds what film may have moved.
      expect(u, field).toBeLessThan(0.2);
    }
    const worst = reading.misalignment.worst_vertical_pct;
    expect(Math.abs(worst.value - Math.abs(truth.misalignment.worst_vertical_pct.value)) / worst.u).toBeLessThan(4.5);
  });

  it('the assignment of the eyes is the true one', async () => {
    const { truth, reading } = await outcomeOf(name);
    expect(reading.eyes.assignment).toBe(truth.eyes.assignment);
  });

  it('what leaks through each lens is true within 4.5 of its uncertainty, and in good light to a tenth', async () => {
    const { truth, reading } = await outcomeOf(name);
    for (const [field, leak] of [
      ['crosstalk_left_pct', 'leak_left_lens_pct'],
      ['crosstalk_right_pct', 'leak_right_lens_pct'],
    ] as const) {
      const crosstalk = truth.eyes[field].value;
      const expected = crosstalk > 100 ? 10_000 / crosstalk : crosstalk;
      const { value, u } = reading.eyes[leak]!;
      // In too little light the leak is weaker than the darkest code of the file.
      if (name !== 'dim-noisy') expect(Math.abs(value - expected), leak).toBeLessThan(Math.max(0.1, 0.1 * expected));
      expect(Math.abs(value - expected) / u, leak).toBeLessThan(4.5);
    }
  });

  it('becomes a reading that its schema takes', async () => {
    const { reading } = await outcomeOf(name);
    const worded = translateReading(reading);
    expect(readingSchema.parse(JSON.parse(JSON.stringify(worded)))).toEqual(JSON.parse(JSON.stringify(worded)));
  });
});

describe('findings, causes and turns, fault by fault', () => {
  it('aligned: all within, nothing to turn', async () => {
    const { reading } = await outcomeOf('aligned');
    expect(reading.findings.filter(({ verdict }) => verdict === 'outside')).toEqual([]);
    expect(reading.advice).toBe('leave-alone');
    expect(reading.turns).toEqual([]);
    expect(reading.causes).toEqual([]);
  });

  it.each(['vertical', 'horizontal', 'roll', 'size'])('%s: something is outside, and is attended to', async (name) => {
    const { reading } = await outcomeOf(name);
    expect(reading.findings.some(({ verdict }) => verdict === 'outside')).toBe(true);
    expect(reading.advice).not.toBe('leave-alone');
    expect(reading.turns.length + reading.incurable.length).toBeGreaterThan(0);
  });

  it('vertical: turned away, so that what is predicted is far smaller', async () => {
    const { reading } = await outcomeOf('vertical');
    expect(verdictOf(reading, 'vertical-offset')).toBe('outside');
    expect(reading.advice).toBe('turn');
    expect(Math.abs(reading.predicted_after.vertical_offset_pct)).toBeLessThan(
      0.1 * reading.misalignment.vertical_offset_pct.value,
    );
    for (const { turns, u, order } of reading.turns) {
      expect(turns).toBeGreaterThan(0);
      expect(turns).toBeLessThan(5);
      expect(u).toBeGreaterThan(0);
      expect(order).toBeGreaterThanOrEqual(1);
    }
  });

  it('vertical: the pictures have to move towards each other, right minus left the other way', async () => {
    const { reading } = await outcomeOf('vertical');
    const motion = (eye: 'left' | 'right') => reading.image_motion.find((m) => m.eye === eye)?.vertical_pct ?? 0;
    expect(motion('right') - motion('left')).toBeCloseTo(-reading.misalignment.vertical_offset_pct.value, 3);
  });

  it('size: no screw cures it', async () => {
    const { reading } = await outcomeOf('size');
    expect(reading.incurable.map(({ term }) => term)).toContain('size_pct');
  });

  it.each([
    ['swapped', 'polarizers-exchanged'],
    ['rotated-polarizer', 'projector-polarizer-turned'],
    ['ghost', 'screen-depolarizes'],
    ['no-polarizers', 'polarizers-missing'],
    ['size', 'path-lengths-differ'],
  ])('%s: the fault that was planted comes first', async (name, code) => {
    const { reading } = await outcomeOf(name);
    expect(causeCodes(reading)[0]).toBe(code);
  });

  it('swapped: found, explained, and no screw is turned for it', async () => {
    const { reading } = await outcomeOf('swapped');
    expect(verdictOf(reading, 'eyes-exchanged')).toBe('outside');
    expect(reading.turns).toEqual([]);
    expect(causeCodes(reading)).toContain('polarizers-exchanged');
    expect(reading.eyes.crosstalk_left_pct!.value).toBeGreaterThan(1000);
    expect(reading.eyes.leak_left_lens_pct!.value).toBeLessThan(1);
  });

  it('rotated polarizer: named, with its angle to half a degree', async () => {
    const { reading } = await outcomeOf('rotated-polarizer');
    const cause = reading.causes.find(({ code }) => code === 'projector-polarizer-turned');
    expect(cause).toBeDefined();
    const angle = cause!.evidence.find(({ name, value }) => name.endsWith('_deg') && typeof value === 'number');
    expect(Math.abs(Number(angle!.value) - 12)).toBeLessThan(0.5);
  });

  it('ghost: a leak through both lenses is taken for what depolarizes both', async () => {
    const { reading } = await outcomeOf('ghost');
    expect(causeCodes(reading)).toContain('screen-depolarizes');
  });

  it('no polarizers: measured all the same, and that is the finding', async () => {
    const { reading } = await outcomeOf('no-polarizers');
    expect(verdictOf(reading, 'no-polarization')).toBe('outside');
    expect(causeCodes(reading)).toContain('polarizers-missing');
    expect(reading.marks.left).toBe(reading.marks.expected_left);
  });

  it('obstructed: hidden marks are missing, not wrong', async () => {
    const { reading } = await outcomeOf('obstructed');
    expect(reading.marks.left + reading.marks.right).toBeLessThan(
      reading.marks.expected_left + reading.marks.expected_right,
    );
    expect(reading.evidence.marks.filter(({ used }) => used).length).toBeGreaterThan(60);
  });
});

describe('measurePhotographs', () => {
  it('the same photographs give the same JSON, to the last digit', async () => {
    const { reading } = await outcomeOf('mixed');
    const again = await measureSet('mixed');
    expect(JSON.stringify(again.reading)).toBe(JSON.stringify(reading));
  });

  it('without a house nothing is known in metres, and seats are assumed', async () => {
    const folder = folderName(IMAGE_SETS[1]);
    const reading = await measurePhotographs({ photographs: setOf(folder), softwareVersion: '1.2.3' });
    if (reading.outcome !== 'measured') throw new Error(reading.refusal.code);
    expect(reading.software.version).toBe('1.2.3');
    expect(reading.house).toMatchObject({ name: null, assumed: true, picture_height_mm: null, aspect: 2.35 });
    expect(reading.advice).toBe('motion-only');
    expect(reading.warnings.map(({ code }) => code)).toContain('house-assumed');
    const inHouse = (await outcomeOf(IMAGE_SETS[1].name)).reading.misalignment;
    for (const field of TERM_FIELDS) {
      const { value, u_repeat } = reading.misalignment[field];
      expect(Math.abs(value - inHouse[field].value), field).toBeLessThan(u_repeat!);
    }
  });

  it('photographs exchanged: the eyes are swapped, the misalignment keeps its signs', async () => {
    const { leftPath, rightPath } = pathsOf(folderName(IMAGE_SETS[1]));
    const reading = await measurePhotographs({ photographs: photographsOf(rightPath, leftPath), softwareVersion: '0' });
    if (reading.outcome !== 'measured') throw new Error(reading.refusal.code);
    expect(reading.eyes.assignment).toBe('swapped');
    const straight = (await outcomeOf(IMAGE_SETS[1].name)).reading.misalignment;
    const { vertical_offset_pct } = reading.misalignment;
    expect(vertical_offset_pct.value).toBeCloseTo(straight.vertical_offset_pct.value, 3);
  });

  it('refuses one photograph given twice, a missing file and two sizes, with the code and the shot', async () => {
    const { leftPath, rightPath } = pathsOf(folderName(IMAGE_SETS[0]));
    const refusalOf = async (left: string, right: string) => {
      const reading = await measurePhotographs({ photographs: photographsOf(left, right), softwareVersion: '0' });
      if (reading.outcome !== 'refused') throw new Error('measured');
      expect(() => translateReading(reading)).not.toThrow();
      return [reading.refusal.code, reading.refusal.shot];
    };
    expect(await refusalOf(leftPath, leftPath)).toEqual(['same-photo-twice', null]);
    expect(await refusalOf(leftPath, join(TEST_IMAGES, 'nothing.jpg'))).toEqual(['unreadable-photo', 'right-lens']);
    expect(await refusalOf(join(TEST_IMAGES, 'README.md'), rightPath)).toEqual(['unsupported-format', 'left-lens']);
  });

  it('refuses two photographs through the same lens', async () => {
    // Two exposures of one picture: those of different sets never agree in every pixel, but show one eye both.
    const [a, b] = [IMAGE_SETS[0], IMAGE_SETS[1]].map((set) => pathsOf(folderName(set)).leftPath);
    const reading = await measurePhotographs({ photographs: photographsOf(a, b), softwareVersion: '0' });
    expect(reading).toMatchObject({ outcome: 'refused', refusal: { code: 'same-eye-twice', facts: { eye: 'left' } } });
  });
});
