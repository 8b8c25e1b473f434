/** Both commands about light on photographs of a simulated hall, from the words to the truth. */
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { placePoint } from '../../../../src/light/evenness.ts';
import { evenness, type MeasuredEvennessRecord } from '../../../../src/record/evenness.ts';
import { lightBudget } from '../../../../src/record/light-budget.ts';
import { LIGHT_PLACES } from '../../../../src/record/light-codes.ts';
import { hotSpot } from '../../../../src/scene/light.ts';
import { projectorPosition } from '../../../../src/scene/projector.ts';
import { renderFlatField } from '../../../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, type Scene, type Shot } from '../../../../src/scene/scene.ts';
import { runCommandLine } from '../../../../src/shells/command/command-line.ts';
import { Darkroom, shotOf, trueRatio } from '../../../application/light/photograph-hall.ts';

const scene: Scene = { ...MERIDIAN_SCENE, brightness: { left: 1, right: 0.7 } };
let darkroom: Darkroom;
let left: Shot;
const at = (name: string) => join(darkroom.folder, name);

beforeAll(async () => {
  darkroom = new Darkroom();
  left = shotOf(scene, 'left', { azimuth_deg: 7, vignetting: 0.9 });
  await darkroom.photograph('left.jpg', left, 1, scene);
  await darkroom.photograph('right.jpg', { ...left, lens: 'right' }, 2, scene);
  await darkroom.develop('flat.jpg', renderFlatField(left, { light: 0.5 }, 3));
  const gate: Scene = { ...scene, openGate: true };
  const bare = shotOf(gate, 'bare', { azimuth_deg: 7, vignetting: 0.9 });
  await darkroom.photograph('gate.jpg', { ...bare, exposure: bare.exposure / 1.8 }, 4, gate);
});
afterAll(() => darkroom.close());

async function run(...words: string[]) {
  const printed: string[] = [];
  const remarks: string[] = [];
  const terminal = {
    print: (text: string) => printed.push(text),
    remark: (text: string) => remarks.push(text),
    trace: true,
  };
  const status = await runCommandLine(words, terminal, { root: '.', version: '9.9.9' });
  return { status, text: printed.join(''), remarks: remarks.join('') };
}

async function measured(...words: string[]): Promise<MeasuredEvennessRecord> {
  const { status, text } = await run('evenness', ...words, '--json');
  expect(status).toBe(0);
  const record = evenness.parse(JSON.parse(text));
  if (record.outcome === 'refused') throw new Error(text);
  return record;
}

describe('evenness', () => {
  it('gives every place within 2 % of the truth, hot spot, balance, luminance and verdicts', async () => {
    const record = await measured(
      ...['--left', at('left.jpg'), '--right', at('right.jpg'), '--flat', at('flat.jpg')],
      ...['--meter', '15', '--meter-of', 'left', '--through-glasses'],
    );
    expect(record.pictures.map(({ picture }) => picture)).toEqual(['left-eye', 'right-eye']);
    for (const { of_centre_pct, hot_spot, field } of record.pictures) {
      for (const place of LIGHT_PLACES) {
        const truth = 100 * trueRatio(scene, left, 'left', placePoint(place, scene.aspect));
        expect(Math.abs(of_centre_pct[place].value / truth - 1), place).toBeLessThan(0.02);
      }
      const mirror = hotSpot(projectorPosition(scene.projector), left.camera.position_ih);
      expect(Math.hypot(hot_spot.at[0] - mirror.x, hot_spot.at[1] - mirror.y)).toBeLessThan(0.03);
      expect(field.of_centre_pct).toHaveLength(field.columns * field.rows);
      const middle = (field.rows * field.columns - 1) / 2;
      expect(field.of_centre_pct[middle]).toBe(100);
      // Row by row from the upper left: the camera stands to the right, so the left is darker.
      expect(field.of_centre_pct[0]!).toBeLessThan(field.of_centre_pct[field.columns - 1]!);
    }
    expect(Math.abs(record.balance!.right_over_left_pct.value / 70 - 1)).toBeLessThan(0.01);
    const verdicts = record.findings.map(({ code, picture, verdict }) => `${code} ${picture} ${verdict}`);
    expect(verdicts).toContain('edge-film left-eye outside');
    expect(verdicts).toContain('at-the-eye left-eye undecided');
    expect(verdicts).toContain('at-the-eye right-eye outside');
    expect(verdicts).toContain('balance-comfort null outside');
    expect(verdicts).toContain('balance-depth null within');
    expect(record.shots.map(({ role }) => role)).toEqual(['left-lens', 'right-lens', 'flat-field']);
    expect(record.vignetting.method).toBe('flat-field');
    expect(record.sentence).toContain('The right eye gets 70 % of the left eye’s light, which is too little.');
  });

  it('tells a person the sentence first, then fields, eyes, limits, notes and cautions', async () => {
    const { text } = await run('evenness', '--left', at('left.jpg'), '--right', at('right.jpg'));
    const titles = [
      'How even the light is',
      'The left-eye picture',
      'The right-eye picture',
      'The right eye’s light',
      'Against the limits',
      'Notes',
      'Cautions',
    ];
    const places = titles.map((title) => text.indexOf(title));
    expect(places[0]).toBe(0);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    const flowing = text.replace(/\s+/g, ' ');
    expect(flowing).toContain('(from memory, unconfirmed)');
    expect(flowing).toContain('hot spot moves with the seat');
    expect(text.split('\n').every((line) => line.length <= 100)).toBe(true);
  });

  it('measures an open gate, judges its centre, and says that the tone curve is unknown', async () => {
    const record = await measured(
      '--bare',
      at('gate.jpg'),
      '--open-gate',
      '--flat',
      at('flat.jpg'),
      '--meter',
      '16',
      '--unit',
      'fL',
    );
    const [{ picture, of_centre_pct, luminance }] = [record.pictures[0]!];
    expect(picture).toBe('bare');
    const truth = 100 * trueRatio(scene, left, 'left', placePoint('left', scene.aspect));
    expect(Math.abs(of_centre_pct.left.value / truth - 1)).toBeLessThan(0.02);
    // 16 fL = 54.82 cd/m2. COMPUTED
    expect(luminance!.centre.cd_m2.value).toBeCloseTo(54.82, 2);
    expect(record.findings).toContainEqual(
      expect.objectContaining({ code: 'centre-film-open-gate', verdict: 'within' }),
    );
    expect(record.notes.map(({ code }) => code)).toContain('tone-curve-unknown');
  });

  it('refuses with status 2, naming the photograph', async () => {
    const { status, text } = await run('evenness', '--bare', at('flat.jpg'), '--open-gate');
    expect(status).toBe(2);
    expect(text).toMatch(/^The photograph without glasses shows no bright picture/);
  });
});

describe('budget', () => {
  it('reckons from what evenness measured: the light in the centre with the gate open', async () => {
    const { status, text } = await run('budget', '--start', '16', '--unit', 'fL', '--json');
    expect(status).toBe(0);
    const budget = lightBudget.parse(JSON.parse(text));
    expect(budget.start.cd_m2.value).toBeCloseTo(54.82, 2);
    expect(budget.findings.map(({ code, verdict }) => [code, verdict])).toEqual([
      ['centre-film-open-gate', 'within'],
      ['at-the-eye', 'outside'],
    ]);
    expect(budget.gains[0]!.effort).toBe('cleaning');
  });

  it('says wrong usage on standard error, with status 64', async () => {
    const { status, text, remarks } = await run('budget');
    expect([status, text]).toEqual([64, '']);
    expect(remarks).toContain('--start');
  });
});
