/** The command as it is typed, on rendered photographs whose polarizers stand at known angles. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_ANGLE_U_DEG } from '../../../../src/application/polarizers/describe-null.ts';
import { DEFAULT_ASPECT } from '../../../../src/kernel/aspect.ts';
import { nullSearch } from '../../../../src/record/null-search.ts';
import { MERIDIAN_SCENE } from '../../../../src/scene/scene.ts';
import { runCommandLine } from '../../../../src/shells/command/command-line.ts';
import { UsageError } from '../../../../src/shells/command/exit-status.ts';
import { type NullWords, readNullWords } from '../../../../src/shells/command/light/run-polarizers.ts';
import { DEFAULTS } from '../../../../src/shells/command/options.ts';
import { Darkroom, PolarizedShots, shotOf } from '../../../application/light/photograph-hall.ts';

const { polarization } = MERIDIAN_SCENE;
const NULL_DEG = 4;
const TURNS_DEG = [-8, 0, 8, 16];

let darkroom: Darkroom;
let reference: string;
let series: readonly string[];

beforeAll(async () => {
  darkroom = new Darkroom();
  const shots = new PolarizedShots(MERIDIAN_SCENE, shotOf(MERIDIAN_SCENE, 'left'));
  reference = (await darkroom.develop('reference.jpg', shots.through('right', polarization, 90))).path;
  series = await Promise.all(
    TURNS_DEG.map(async (turn_deg, seed) => {
      const turned = { ...polarization, pictureError_deg: { left: 0, right: turn_deg - NULL_DEG } };
      return (await darkroom.develop(`turned-${seed}.jpg`, shots.through('left', turned, seed))).path;
    }),
  );
});
afterAll(() => darkroom.close());

async function run(...words: readonly string[]) {
  const printed: string[] = [];
  const remarks: string[] = [];
  const terminal = { print: (text: string) => printed.push(text), remark: (text: string) => remarks.push(text) };
  const all = ['null', ...words, '--lens', 'left', '--turned', 'polarizer', '--reference', reference];
  const status = await runCommandLine(all, { ...terminal, trace: false }, { root: '', version: '9.9.9' });
  return { status, printed: printed.join(''), remarks: remarks.join('') };
}

describe('null', () => {
  it('says first what to turn, which way, how far and what is won, and what to beware of', async () => {
    const { status, printed, remarks } = await run(...series, '--turns', TURNS_DEG.join(','));
    expect(remarks).toBe('');
    expect(status).toBe(0);
    const text = printed.replace(/\s+/g, ' ');
    const said =
      /^Turn the polarizer of the right-eye picture (\d+\.\d)° back, to (\d+\.\d)° on your scale \(± \d\.\d°\): the ghost through the left lens falls from (\d\.\d+) % to 0\.\d+ %\./.exec(
        text,
      );
    expect(Math.abs(Number(said?.[1]) - (TURNS_DEG[3] - NULL_DEG))).toBeLessThan(0.3);
    expect(Math.abs(Number(said?.[2]) - NULL_DEG)).toBeLessThan(0.3);
    expect(Number(said?.[3])).toBeGreaterThan(4);
    expect(text).toContain('turn it from the side by its edge in gloves');
    expect(text).toMatch(/turned-3\.jpg \+16\.0 deg/);
  });

  it('prints one JSON object in which null, curve and ghosts agree', async () => {
    const { status, printed } = await run(...series, '--turns', TURNS_DEG.join(','), '--json', '--doubt', '0');
    expect(status).toBe(0);
    expect(printed.indexOf('\n')).toBe(printed.length - 1);
    const search = nullSearch.parse(JSON.parse(printed));
    if (search.outcome !== 'found') throw new Error(printed);
    expect(search).toMatchObject({ software: { version: '9.9.9' }, by: 'turns', verdict: 'turn', is_between: true });
    expect(Math.abs(search.null_deg!.value - NULL_DEG)).toBeLessThan(0.1);
    expect(Math.abs(search.null_deg!.value - NULL_DEG)).toBeLessThan(2 * search.null_deg!.u);
    const lowest = search.curve.points.reduce((a, b) => (b[1] < a[1] ? b : a));
    expect(Math.abs(lowest[0] - search.curve.null_at)).toBeLessThan(0.5);
    // What passes through the photographs' ghosts is the same curve that is drawn.
    for (const { turn_deg, leak_pct } of search.shots) {
      const near = search.curve.points.reduce((a, b) =>
        Math.abs(b[0] - turn_deg!) < Math.abs(a[0] - turn_deg!) ? b : a,
      );
      expect(Math.abs(near[1] - leak_pct.value)).toBeLessThan(0.3);
    }
  });

  it('by equal steps counts in steps', async () => {
    const { status, printed } = await run(...series, '--json');
    expect(status).toBe(0);
    const search = nullSearch.parse(JSON.parse(printed));
    if (search.outcome !== 'found') throw new Error(printed);
    expect(search).toMatchObject({ by: 'steps', null_deg: null, curve: { unit: 'steps' } });
    const { value, u } = search.further_steps!;
    const truth = (NULL_DEG - TURNS_DEG[3]) / 8;
    expect(Math.abs(value - truth)).toBeLessThan(2 * u);
    expect(u).toBeLessThan(0.1);
    expect(search.sentence).toMatch(/^Turn the polarizer of the right-eye picture 1\.5\d? steps back/);
  });

  it('refuses with status 2, the reason, the remedy and the file', async () => {
    const few = await run(series[0], series[1], '--turns', '-8,0');
    expect(few.status).toBe(2);
    expect(few.printed).toMatch(/^There are too few photographs for a curve: 2, at least 3 are needed\.\n\nTurn on/);
    const part = await run(...series, '--turns', '-8,0', '--json');
    expect(part.status).toBe(2);
    expect(JSON.parse(part.printed).refusal).toMatchObject({ code: 'turns-incomplete', file: null });
    const strange = await run(...series, `${series[0]}.gone`);
    expect(strange.status).toBe(2);
    expect(strange.printed).toContain('Photograph: ');
  });
});

describe('what no series can be', () => {
  const words: NullWords = {
    photographs: ['a.jpg', 'b.jpg'],
    lens: 'left',
    turned: 'glasses',
    reference: 'r.jpg',
    doubt: 0.5,
    aspect: DEFAULT_ASPECT,
  };

  it.each([
    ['turns and a step', { turns: '0,5', step: 5 }],
    ['more turns than photographs', { turns: '0,5,10' }],
    ['turns that are no numbers', { turns: '0,five' }],
    ['a step of nothing', { step: 0 }],
    ['a doubt below nothing', { doubt: -1 }],
    ['a shape that cannot be drawn', { aspect: 4 }],
  ])('%s is wrong usage', (_name, change) => {
    expect(() => readNullWords({ ...words, ...change }, '1')).toThrow(UsageError);
  });

  it('turns go to the photographs in their order, steps are counted from the first', () => {
    expect(readNullWords({ ...words, turns: '-3, 4.5' }, '1').shots.map(({ turn_deg }) => turn_deg)).toEqual([-3, 4.5]);
    expect(readNullWords({ ...words, step: -5 }, '1').shots.map(({ turn_deg }) => turn_deg)).toEqual([-0, -5]);
    expect(readNullWords(words, '1').shots[0]).not.toHaveProperty('turn_deg');
    expect(DEFAULTS).toMatchObject({ aspect: DEFAULT_ASPECT, doubt_deg: DEFAULT_ANGLE_U_DEG });
  });
});
