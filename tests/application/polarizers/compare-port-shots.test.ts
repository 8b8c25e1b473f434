/** Photographs of lit ports, rendered with known polarizers, against what the renderer let through. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { comparePortShots, type PortShotsResult } from '../../../src/application/polarizers/compare-port-shots.ts';
import { createRandom } from '../../../src/kernel/random.ts';
import { portTransmittance, type PortScene } from '../../../src/scene/render-ports.ts';
import { Darkroom } from '../light/photograph-hall.ts';
import { LIT_PORTS, photographPorts } from './lit-ports.ts';

let darkroom: Darkroom;
beforeAll(() => {
  darkroom = new Darkroom();
});
afterAll(() => darkroom.close());

const { polarization, ports } = LIT_PORTS;
const withPolarization = (change: Partial<PortScene['polarization']>): PortScene => ({
  ...LIT_PORTS,
  polarization: { ...polarization, ...change },
});

type Compared = Extract<PortShotsResult, { outcome: 'compared' }>;

async function compare(...given: Parameters<typeof photographPorts> extends [unknown, ...infer Rest] ? Rest : never) {
  return comparePortShots(await photographPorts(darkroom, ...given));
}

async function compared(...given: Parameters<typeof compare>): Promise<Compared> {
  const result = await compare(...given);
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result));
  return result;
}

describe('comparePortShots', () => {
  it.each([
    ['fitted', {}, 'each-its-own', 'right'],
    ['exchanged', { exchanged: true }, 'each-its-own', 'left'],
    ['missing', { fitted: false }, 'both-neither', null],
    ['one a quarter turn off', { pictureError_deg: { left: 0, right: 90 } }, 'both-one-eye', null],
    ['one that depolarizes', { pathDepolarization: { left: 1, right: 0 } }, 'one-neither', null],
    ['one turned by 18 degrees', { pictureError_deg: { left: 18, right: 0 } }, 'each-its-own', 'right'],
    ['one turned by 30 degrees', { pictureError_deg: { left: 30, right: 0 } }, 'unclear', null],
  ] as const)('polarizers %s', async (_name, change, verdict, firstServes) => {
    const { ports: judged, arrangement, places } = await compared(withPolarization(change));
    expect(judged).toMatchObject({ verdict, firstServes });
    expect(arrangement).toBe('above');
    for (const [place, port] of [
      ['first', ports[0]],
      ['second', ports[1]],
    ] as const) {
      expect(Math.hypot(places[place].centre.x - port.centre.x, places[place].centre.y - port.centre.y)).toBeLessThan(
        2,
      );
    }
  });

  it('is truer than its uncertainty, whatever glare, light and polarizers', async () => {
    const random = createRandom(5);
    let [within, all] = [0, 0];
    for (let trial = 0; trial < 10; trial++) {
      const scene: PortScene = {
        ...withPolarization({ pictureError_deg: { left: 20 * random.uniform(), right: 20 * random.uniform() } }),
        halo: 0.12 * random.uniform(),
        haloReach_px: 40 + 80 * random.uniform(),
        unevenness: 0.7 * random.uniform(),
        wall: 0.02 * random.uniform(),
        ports: ports.map((port) => ({ ...port, light: 0.3 + 0.5 * random.uniform() })),
      };
      const { ports: judged } = await compared(scene);
      expect(judged.verdict).not.toBe('both-neither');
      for (const [port, { ratio }] of [
        [ports[0], judged.first],
        [ports[1], judged.second],
      ] as const) {
        const other = port.eye === 'left' ? 'right' : 'left';
        const truth =
          portTransmittance(scene.polarization, port, other) / portTransmittance(scene.polarization, port, port.eye);
        all++;
        if (Math.abs(ratio.value - truth) <= 2 * ratio.u) within++;
      }
    }
    expect(all).toBe(20);
    expect(within / all).toBeGreaterThanOrEqual(0.9);
  });

  it('tells ports side by side, the left one first', async () => {
    const beside = ports.map((port, k) => ({ ...port, centre: { x: k === 0 ? 620 : 300, y: 300 + 20 * k } }));
    const { arrangement, ports: judged, places } = await compared({ ...LIT_PORTS, ports: beside });
    expect(arrangement).toBe('beside');
    expect(judged).toMatchObject({ verdict: 'each-its-own', firstServes: 'left' });
    expect(places.first.centre.x).toBeLessThan(places.second.centre.x);
  });

  it('is not misled by exposures that differ, nor by a port that is burnt out', async () => {
    const half = await compared(LIT_PORTS, { right: { exposure: 0.5 } });
    expect(half.ports).toMatchObject({ verdict: 'each-its-own', firstServes: 'right' });
    expect(half.notes).toContain('exposure-unknown');
    const burnt = await compared(LIT_PORTS, { left: { exposure: 3 }, right: { exposure: 3 } });
    expect(burnt.ports).toMatchObject({ verdict: 'each-its-own', firstServes: 'right' });
    expect(burnt.notes).toContain('burnt-out');
  });

  it('says when nothing tells whether the camera kept still', async () => {
    expect((await compared()).notes).toContain('steadiness-unknown');
    const leaking = withPolarization({ pictureError_deg: { left: 20, right: 20 } });
    expect((await compared(leaking)).notes).not.toContain('steadiness-unknown');
  });
});

describe('comparePortShots refuses', () => {
  it.each([
    [
      'a camera that moved',
      withPolarization({ fitted: false }),
      { right: { moved_px: { x: 30, y: 12 } } },
      'camera-moved',
    ],
    ['one port', { ...LIT_PORTS, ports: ports.slice(0, 1) }, {}, 'one-port-only'],
    ['darkness', LIT_PORTS, { left: { exposure: 0.01 }, right: { exposure: 0.01 } }, 'underexposed'],
    [
      'ports that are burnt out through both lenses',
      withPolarization({ fitted: false }),
      { left: { exposure: 6 }, right: { exposure: 6 } },
      'overexposed',
    ],
    [
      'a third light',
      { ...LIT_PORTS, ports: [...ports, { ...ports[0], centre: { x: 150, y: 150 }, width_px: 80, height_px: 80 }] },
      {},
      'too-many-lights',
    ],
  ] as const)('%s', async (_name, scene, otherwise, code) => {
    expect(await compare(scene, otherwise)).toMatchObject({ outcome: 'refused', lens: null, refusal: { code } });
  });

  it('the same photograph twice, and a file that is none, with its lens', async () => {
    const { left } = await photographPorts(darkroom);
    expect(await comparePortShots({ left, right: left })).toMatchObject({ refusal: { code: 'same-photo-twice' } });
    const gone = { path: `${left.path}.gone`, name: 'gone.jpg' };
    expect(await comparePortShots({ left, right: gone })).toMatchObject({
      refusal: { code: 'unreadable-photo' },
      lens: 'right',
    });
  });

  it('photographs of two sizes', async () => {
    const { left } = await photographPorts(darkroom);
    const { right } = await photographPorts(darkroom, { ...LIT_PORTS, width_px: 880 });
    expect(await comparePortShots({ left, right })).toMatchObject({ refusal: { code: 'different-size' } });
  });
});
