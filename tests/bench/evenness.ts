/**
 * Evenness: how far sides and corners over the centre lie from the truth, and whether the stated uncertainty holds.
 *
 *   npx tsx tests/bench/evenness.ts [--scenes 20] [--seed 1]
 *
 * Seats, screens and camera lenses are drawn at random: up to 12 degrees aside and 6 above or below, 2.5 to 6 picture
 * heights away, half-gain angles of 11 to 18 degrees, and lenses that take from 0.1 to 1.9 times what cos^4 takes, which
 * is about as widely as the assumption of an unknown lens allows for.
 */
import { parseArgs } from 'node:util';
import type { EvennessRequest, LightSource } from '../../src/application/light/lit-pictures.ts';
import { measureEvenness } from '../../src/application/light/measure-evenness.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { median, percentile } from '../../src/kernel/statistics.ts';
import { placePoint } from '../../src/light/evenness.ts';
import { LIGHT_PLACES } from '../../src/record/light-codes.ts';
import { renderFlatField } from '../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, type Scene, type Shot } from '../../src/scene/scene.ts';
import { Darkroom, type HallCamera, shotOf, trueRatio } from '../application/light/photograph-hall.ts';
import { formatTable } from './format-table.ts';

const { values: options } = parseArgs({
  options: { scenes: { type: 'string', default: '20' }, seed: { type: 'string', default: '1' } },
});

interface Off {
  /** Of the truth. */
  readonly relative: number;
  readonly deviations: number;
}

const darkroom = new Darkroom();
const WAYS = [
  'target, flat field',
  'target, panned',
  'target, lens assumed',
  'open gate, flat field',
  'open gate, lens assumed',
];
const offs = new Map<string, Off[]>(WAYS.map((way) => [way, []]));
const refused = new Map<string, number>();

const between = (random: RandomSource, min: number, max: number) => min + (max - min) * random.uniform();

async function tell(way: string, request: EvennessRequest, scene: Scene, shot: Shot): Promise<void> {
  const result = await measureEvenness(request);
  if (result.outcome === 'refused') {
    refused.set(way, (refused.get(way) ?? 0) + 1);
    return;
  }
  for (const place of LIGHT_PLACES) {
    if (place === 'centre') continue;
    const { value, u } = result.pictures[0].evenness.ofCentre[place];
    const truth = trueRatio(scene, shot, 'left', placePoint(place, scene.aspect));
    offs.get(way)!.push({ relative: Math.abs(value / truth - 1), deviations: Math.abs(value - truth) / u });
  }
}

try {
  for (let i = 0; i < Number(options.scenes); i++) {
    const random = createRandom(Number(options.seed) + i);
    const surface = { mattPart: between(random, 0.1, 0.25), halfGain_deg: between(random, 11, 18) };
    const seat: HallCamera = {
      azimuth_deg: between(random, -12, 12),
      elevation_deg: between(random, -6, 6),
      distance_ih: between(random, 2.5, 6),
      vignetting: between(random, 0.1, 1.9),
      share: 0.72,
    };
    const scene: Scene = { ...MERIDIAN_SCENE, surface };
    const shot = shotOf(scene, 'left', seat);
    const aside = shotOf(scene, 'left', { ...seat, offset: { x: 0.12, y: 0.18 } });
    const panned = { ...shot, camera: { ...shot.camera, lookAt_ih: aside.camera.lookAt_ih } };
    const gate: Scene = { ...scene, openGate: true };
    const photographed = async (name: string, of: Shot, inScene: Scene): Promise<LightSource> => ({
      ...(await darkroom.photograph(`${i}-${name}.jpg`, of, 100 * i + 1, inScene)),
      role: 'left-lens',
    });
    const target = { subject: 'target', pictures: [await photographed('target', shot, scene)] } as const;
    const open = { subject: 'open-gate', pictures: [await photographed('gate', shot, gate)] } as const;
    const flat = await darkroom.develop(
      `${i}-flat.jpg`,
      renderFlatField(shot, { light: 0.5, slope: 0.03 }, 100 * i + 2),
    );
    const turned = await photographed('panned', panned, scene);
    await tell(WAYS[0], { ...target, flat }, scene, shot);
    await tell(WAYS[1], { ...target, turned }, scene, shot);
    await tell(WAYS[2], target, scene, shot);
    await tell(WAYS[3], { ...open, flat }, gate, shot);
    await tell(WAYS[4], open, gate, shot);
  }
} finally {
  darkroom.close();
}

const percent = (part: number) => `${(100 * part).toFixed(2)} %`;
const rows = WAYS.map((way) => {
  const all = offs.get(way)!;
  const relative = all.map((off) => off.relative);
  const held = all.filter(({ deviations }) => deviations <= 2).length / all.length;
  return [
    way,
    String(all.length),
    percent(median(relative)),
    percent(percentile(relative, 95)),
    percent(Math.max(...relative)),
    `${(100 * held).toFixed(0)} %`,
    String(refused.get(way) ?? 0),
  ];
});
process.stdout.write(
  `${formatTable(['ratios', 'number', 'median off', '95th percentile', 'worst', 'within 2 u', 'refused'], rows)}\n`,
);
