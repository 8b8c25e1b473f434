/** Made-up states of the polarizers: a null by turns, one by steps, one that cannot be found, ports right and exchanged. */
import { createHash } from 'node:crypto';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describeNull } from '../../src/application/polarizers/describe-null.ts';
import { reportPorts } from '../../src/application/polarizers/describe-ports.ts';
import type { NullFromPhotographs } from '../../src/application/polarizers/find-null.ts';
import { EMPTY_POLARIZERS, type Polarizers } from '../../src/contract/polarizers.ts';
import { predictLeaks } from '../../src/light/explain-leaks.ts';
import { findNullBySteps } from '../../src/light/null-by-steps.ts';
import { findNull } from '../../src/light/null-search.ts';
import { encodeJpeg } from '../../src/photo/write-photo.ts';
import type { NullSearchRecord } from '../../src/record/null-search.ts';
import { translateNullSearch, translatePortShots } from '../../src/wording/polarizers.ts';
import { renderPorts } from '../../src/scene/render-ports.ts';
import { LIT_PORTS } from '../application/polarizers/lit-ports.ts';

export const POLARIZER_SITUATIONS = ['null-turns', 'null-steps', 'null-refused', 'ports'] as const;
type PolarizerSituation = (typeof POLARIZER_SITUATIONS)[number];

export function isPolarizerSituation(situation: string): situation is PolarizerSituation {
  return POLARIZER_SITUATIONS.some((each) => each === situation);
}

const TURNS_DEG = [-15, -10, -5, 0, 5, 10, 15];
const NULL_DEG = 3.2;
const NOISE = [0.4, -0.9, 0.7, 0.2, -0.6, 1.1, -0.3];

export async function stagePolarizers(
  situation: PolarizerSituation,
  photographs: Map<string, string>,
): Promise<Polarizers> {
  if (situation === 'ports') return stagePorts(photographs);
  const counted = situation === 'null-steps' ? 'steps' : 'turns';
  return {
    ...EMPTY_POLARIZERS,
    setting: { lens: 'left', turned: 'polarizer', counted },
    reference: { id: 1, name: 'DSC_0340.jpg', sha256: hashOf('reference') },
    series: TURNS_DEG.map((turn_deg, i) => ({
      id: i + 2,
      name: `DSC_034${i + 1}.jpg`,
      sha256: hashOf(`series ${i}`),
      turn_deg: counted === 'turns' ? turn_deg : null,
    })),
    null_search: searchMadeUp(situation),
    count: 8,
  };
}

/** Ghosts that scatter as photographs do. */
export function searchMadeUp(situation: Exclude<PolarizerSituation, 'ports'>): NullSearchRecord {
  const leaks = TURNS_DEG.map((turn_deg, i) => {
    const value = predictLeaks({ picture_deg: { right: turn_deg - NULL_DEG } }, 0.0035, 1).left;
    const u = Math.hypot(0.012 * value, 0.0004);
    const counted = situation === 'null-steps' ? null : turn_deg;
    return { file: `DSC_034${i + 1}.jpg`, turn_deg: counted, leak: { value: value + NOISE[i]! * u, u } };
  });
  const request = {
    lens: 'left',
    turned: 'polarizer',
    reference: { path: 'r', name: 'DSC_0340.jpg' },
  } as const;
  return translateNullSearch(describeNull(request, resultOf(situation, leaks), '0.1.0'));
}

function resultOf(situation: string, leaks: NullFromPhotographs['leaks']): NullFromPhotographs {
  if (situation === 'null-refused') {
    const refusal = { outcome: 'refused', code: 'camera-moved', facts: { moved_px: 4.2 } } as const;
    return { outcome: 'refused', refusal, file: 'DSC_0344.jpg', leaks: leaks.slice(0, 3), notes: [] };
  }
  if (situation === 'null-steps') {
    const found = findNullBySteps({ turned: 'polarizer', leaks: leaks.map(({ leak }) => leak) });
    if (found.outcome === 'refused') throw new Error(JSON.stringify(found));
    return { outcome: 'found', by: 'steps', null: found, leaks, notes: ['exposure-unknown'] };
  }
  const shots = leaks.map(({ turn_deg, leak }) => ({ turn_deg: turn_deg!, leak }));
  const found = findNull({ turned: 'polarizer', shots, turnU_deg: 0.3 });
  if (found.outcome === 'refused') throw new Error(JSON.stringify(found));
  return { outcome: 'found', by: 'turns', null: found, leaks, notes: [] };
}

async function stagePorts(photographs: Map<string, string>): Promise<Polarizers> {
  const folder = mkdtempSync(join(tmpdir(), 'stand-in-ports-'));
  const take = async (lens: 'left' | 'right', id: number) => {
    const bytes = await encodeJpeg(renderPorts(LIT_PORTS, { lens, exposure: 1 }, id), 90);
    const path = join(folder, `ports-${lens}.jpg`);
    writeFileSync(path, bytes);
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    photographs.set(sha256, path);
    return { path, laidOut: { id, name: `ports-${lens}.jpg`, sha256 } };
  };
  const [left, right] = [await take('left', 1), await take('right', 2)];
  const sourceOf = ({ path, laidOut }: typeof left) => ({ path, name: laidOut.name });
  const order = { left: sourceOf(left), right: sourceOf(right), softwareVersion: '0.1.0' };
  const port_shots = translatePortShots(await reportPorts({ ...order, upperPortShows: 'right' }));
  return { ...EMPTY_POLARIZERS, ports: { left: left.laidOut, right: right.laidOut }, port_shots, count: 2 };
}

function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
