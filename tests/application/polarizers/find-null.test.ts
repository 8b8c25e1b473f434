/** Null searches on rendered photographs, against the angles at which they were rendered. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  findNullInPhotographs,
  type NullRequest,
  type SeriesShot,
} from '../../../src/application/polarizers/find-null.ts';
import type { Eye } from '../../../src/kernel/eye.ts';
import { findPolarizerError } from '../../../src/light/polarizer-error.ts';
import { MERIDIAN_SCENE } from '../../../src/scene/scene.ts';
import { Darkroom, PolarizedShots, shotOf, trueLeak } from '../light/photograph-hall.ts';

const { polarization } = MERIDIAN_SCENE;
const NULL_DEG = 3.2;
const TURNS_DEG = [-15, -7.5, 0, 7.5, 15];

let darkroom: Darkroom;
let shots: PolarizedShots;
let reference: { path: string; name: string };

beforeAll(async () => {
  darkroom = new Darkroom();
  shots = new PolarizedShots(MERIDIAN_SCENE, shotOf(MERIDIAN_SCENE, 'left'));
  reference = await darkroom.develop('reference.jpg', shots.through('right', polarization, 90));
});
afterAll(() => darkroom.close());

const turnedTo = (turned: NullRequest['turned'], turn_deg: number, picture: Eye = 'right') => {
  const off = turn_deg - NULL_DEG;
  return turned === 'glasses'
    ? { ...polarization, glassesTilt_deg: off }
    : { ...polarization, pictureError_deg: { left: 0, right: 0, [picture]: off } };
};

const developed = new Map<string, Promise<{ path: string; name: string }>>();

async function series(turned: NullRequest['turned'], turns_deg = TURNS_DEG): Promise<SeriesShot[]> {
  const taken: SeriesShot[] = [];
  for (const [i, turn_deg] of turns_deg.entries()) {
    const name = `${turned}-${turn_deg}.jpg`;
    const file = developed.get(name) ?? darkroom.develop(name, shots.through('left', turnedTo(turned, turn_deg), i));
    developed.set(name, file);
    taken.push({ ...(await file), turn_deg });
  }
  return taken;
}

describe('findNullInPhotographs', () => {
  it.each(['glasses', 'polarizer'] as const)(
    'finds the null of the %s within 0.1 degrees, and what leaks there',
    async (turned) => {
      const done: number[] = [];
      const taken = await series(turned);
      const found = await findNullInPhotographs({
        lens: 'left',
        turned,
        shots: taken,
        reference,
        onShot: (count) => done.push(count),
      });
      if (found.outcome !== 'found' || found.by !== 'turns') throw new Error(JSON.stringify(found));
      expect(done).toEqual([1, 2, 3, 4, 5]);
      // The renderer writes no exposure into the files, and keeps tones straight.
      expect(found.notes).toEqual(['exposure-unknown']);
      found.leaks.forEach(({ leak, file, turn_deg }, i) => {
        expect({ file, turn_deg }).toEqual({ file: taken[i].name, turn_deg: TURNS_DEG[i] });
        const truth = trueLeak(turnedTo(turned, TURNS_DEG[i]), 'left');
        expect(Math.abs(leak.value - truth)).toBeLessThan(2 * leak.u);
      });
      const { null_deg, further_deg, leastLeak } = found.null;
      expect(Math.abs(null_deg.value - NULL_DEG)).toBeLessThan(0.1);
      expect(Math.abs(null_deg.value - NULL_DEG)).toBeLessThan(2 * null_deg.u);
      expect(Math.abs(further_deg.value - (NULL_DEG - 15))).toBeLessThan(0.1);
      expect(Math.abs(leastLeak.value - trueLeak(polarization, 'left'))).toBeLessThan(2 * leastLeak.u);

      // The least leak is the floor that a single shot lacks. The formula is for a turned lens: a polarizer of one picture
      // takes no light from the signal.
      if (turned !== 'glasses') return;
      const error = findPolarizerError(found.leaks[0].leak, { kind: 'measured', floor: leastLeak });
      if (error.outcome !== 'separated') throw new Error(JSON.stringify(error));
      expect(Math.abs(error.angle.value_deg - (15 + NULL_DEG))).toBeLessThan(0.5);
    },
  );

  it('without being told the turns gives the way in steps, and degrees as well as it can', async () => {
    const taken = (await series('glasses', [-30, -15, 0, 15, 30])).map(({ path, name }) => ({ path, name }));
    const found = await findNullInPhotographs({ lens: 'left', turned: 'glasses', shots: taken, reference });
    if (found.outcome !== 'found' || found.by !== 'steps') throw new Error(JSON.stringify(found));
    const { further_steps, step_deg } = found.null;
    expect(Math.abs(further_steps.value - (NULL_DEG - 30) / 15)).toBeLessThan(0.02);
    expect(Math.abs(step_deg!.value - 15)).toBeLessThan(2 * step_deg!.u);
  });
});

describe('findNullInPhotographs refuses', () => {
  it('a series of which only some turns are given', async () => {
    const [a, b, { path, name }] = await series('glasses', [-15, 0, 15]);
    const found = await findNullInPhotographs({
      lens: 'left',
      turned: 'glasses',
      shots: [a, b, { path, name }],
      reference,
    });
    expect(found).toMatchObject({
      outcome: 'refused',
      file: null,
      refusal: { code: 'turns-incomplete', facts: { counted: 2 } },
    });
  });

  it('two shots, with the leaks that it measured', async () => {
    const found = await findNullInPhotographs({
      lens: 'left',
      turned: 'glasses',
      shots: await series('glasses', [0, 15]),
      reference,
    });
    expect(found).toMatchObject({ outcome: 'refused', file: null, refusal: { code: 'too-few-shots' } });
    expect(found.leaks).toHaveLength(2);
  });

  it('a reference that does not show the leaking picture, and a file that is none', async () => {
    const [first, second] = await series('glasses', [0, 15]);
    const request = { lens: 'left', turned: 'glasses', shots: [first, second] } as const;
    expect(await findNullInPhotographs({ ...request, reference: second })).toMatchObject({
      refusal: { code: 'reference-shows-wrong-picture' },
      file: first.name,
    });
    const missing = { path: `${first.path}.gone`, name: 'gone.jpg' };
    expect(await findNullInPhotographs({ ...request, reference: missing })).toMatchObject({
      refusal: { code: 'unreadable-photo' },
      file: 'gone.jpg',
    });
  });
});
