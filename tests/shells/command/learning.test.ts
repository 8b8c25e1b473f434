/** Options of `measure` that learn from what was turned: what is read, what is refused, what is written. */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { UnwordedMeasured } from '../../../src/record/reading.ts';
import { UsageError } from '../../../src/shells/command/exit-status.ts';
import { type LearningOptions, learnWithReading, readLearning } from '../../../src/shells/command/learning.ts';
import { translateReading } from '../../../src/wording/reading.ts';
import { meridian } from '../../limits/reading-of.ts';
import { sampleReading, sampleRefusal } from '../../report/sample-reading.ts';

const folder = mkdtempSync(join(tmpdir(), 'twinplumb-learning-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const house = meridian();

function file(name: string, content: unknown): string {
  const path = join(folder, name);
  writeFileSync(path, typeof content === 'string' ? content : JSON.stringify(content));
  return path;
}

/** The sample's photographs stand for those before; these are taken after the turns. */
function after(vertical_pct: number): UnwordedMeasured {
  const { causes: _, warnings: __, ...reading } = sampleReading;
  return {
    ...reading,
    causes: [],
    warnings: [],
    shots: sampleReading.shots.map((shot, index) => ({ ...shot, sha256: `f${index}`.padEnd(64, '0') })),
    misalignment: {
      ...sampleReading.misalignment,
      vertical_offset_pct: { ...sampleReading.misalignment.vertical_offset_pct, value: vertical_pct },
    },
  } as unknown as UnwordedMeasured;
}

const earlier = file('earlier.json', sampleReading);
const before_pct = sampleReading.misalignment.vertical_offset_pct.value;
/** Of the upper screw, right minus left per clockwise turn. */
const UPPER_PCT = (-100 * 2 * 27_000 * 0.5) / (160 * (10_400 / 2.35));

const complaint = async (options: LearningOptions, of: typeof house | undefined) => {
  const error = await readLearning(options, of).catch((thrown: unknown) => thrown);
  expect(error).toBeInstanceOf(UsageError);
  return (error as UsageError).message;
};

describe('what is asked', () => {
  it('is nothing where no option is given', async () => {
    expect(await readLearning({}, undefined)).toBeUndefined();
  });

  it('is read: turns of screws, degrees of what is turned by hand', async () => {
    const turned = ['upper-screw:clockwise:0.125', 'whole-attachment:counter-clockwise:0.5deg'];
    const learning = await readLearning({ after: earlier, turned }, house);
    expect(learning!.made).toEqual([
      { adjustment: 'upper-screw', direction: 'clockwise', turns: 0.125 },
      { adjustment: 'whole-attachment', direction: 'counter-clockwise', turns: 0.5 / 360 },
    ]);
  });

  it.each([
    ['no house', { learned: 'x' }, /need --house/, undefined],
    ['turns without the reading before them', { turned: ['upper-screw:clockwise:1'] }, /needs --after/, house],
    [
      'a turn that cannot be read',
      { after: earlier, turned: ['upper-screw 1/8'] },
      /upper-screw:clockwise:0.125/,
      house,
    ],
    ['no turn at all', { after: earlier, turned: ['upper-screw:clockwise:0'] }, /cannot be/, house],
    [
      'a screw that is not described',
      { after: earlier, turned: ['side-screw:clockwise:1'] },
      /Described there: upper-screw/,
      house,
    ],
    ['a reading that is none', { after: file('none.json', '{"schema":') }, /not a reading/, house],
    ['a refusal', { after: file('refused.json', sampleRefusal) }, /refusal/, house],
    [
      'a file that holds something else',
      { learned: file('other.json', { a: 1 }) },
      /does not hold what was learned/,
      house,
    ],
  ] as const)('%s: says what to give', async (_, options, message, of) => {
    expect(await complaint(options as LearningOptions, of)).toMatch(message);
  });
});

describe('what is learned', () => {
  it('is written, stands in the reading with its sentence, and is read again', async () => {
    const learned = join(folder, 'learned.json');
    const options = { after: earlier, turned: ['upper-screw:clockwise:0.25'], learned };
    const reading = after(before_pct - UPPER_PCT * 0.25);
    const told = translateReading(await learnWithReading(reading, (await readLearning(options, house))!));
    if (told.outcome !== 'measured') throw new Error('refused');
    expect(told.learning!.sentence).toMatch(
      /^The upper screw moves the picture the other way than the house file says/,
    );
    expect(told.learning!.rounds).toBe(1);
    expect(JSON.parse(readFileSync(learned, 'utf8')).schema).toBe('twinplumb.learned/1');
    const again = await readLearning({ learned }, house);
    const next = await learnWithReading(after(1), again!);
    expect(next.outcome === 'measured' && next.learning!.rounds).toBe(1);
  });

  it('is nothing where the photographs are the same: it says so, and leaves the file alone', async () => {
    const learned = join(folder, 'untouched.json');
    const options = { after: earlier, turned: ['upper-screw:clockwise:0.25'], learned };
    const same = { ...after(1), shots: sampleReading.shots };
    await expect(learnWithReading(same, (await readLearning(options, house))!)).rejects.toThrow(/same photographs/);
    expect(existsSync(learned)).toBe(false);
  });
});
