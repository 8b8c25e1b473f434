/** Made-up states of the work, from readings of the test images, for looking at every screen in every situation. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { judgeTurnsMade } from '../../src/application/turns/judge-turns-made.ts';
import { measurePhotographs } from '../../src/application/measure-photographs.ts';
import { photographsOf } from '../application/name-photographs.ts';
import type { Examination, Shot } from '../../src/contract/shots.ts';
import { DEFAULT_SETTINGS, type Round, type Workspace } from '../../src/contract/workspace.ts';
import { type House, readHouse } from '../../src/record/house.ts';
import type { MeasuredReading, Reading, RefusedReading } from '../../src/record/reading.ts';
import { translateReading } from '../../src/wording/reading.ts';
import { isPolarizerSituation, POLARIZER_SITUATIONS, stagePolarizers } from './polarizers-situations.ts';
import { isTurnsSituation, stageTurns, TURNS_SITUATIONS } from './turns-situations.ts';
import type { ShotSlot } from '../../src/record/roles.ts';

const IMAGES = join(import.meta.dirname, '..', '..', 'test-images');

export const SITUATIONS = [
  'empty',
  'one-shot',
  'measuring',
  'refused',
  'measured',
  'no-house',
  'rounds',
  'mixed',
  'ghosts',
  'refused-round',
  ...TURNS_SITUATIONS,
  ...POLARIZER_SITUATIONS,
] as const;
export type Situation = (typeof SITUATIONS)[number];

export interface Staged {
  workspace: Workspace;
  readonly readings: ReadonlyMap<number, Reading>;
  /** SHA-256 -> path. */
  readonly photographs: Map<string, string>;
  readonly listeners: Set<() => void>;
}

/** Made up: none of the test images has one. */
const COPY = {
  eye: 'right',
  shot: 'right-lens',
  offset_ih: [-0.03, 0.09],
  u_ih: [0.0004, 0.0005],
  strength_pct: { value: 1.32, u: 0.04 },
  side: 'above',
  beyond_ih: 0.09,
  over_ih: 0.91,
  marks: 31,
} as const;

const AT = '2026-03-14T09:26:53+01:00';

export async function stage(situation: Situation): Promise<Staged> {
  const photographs = new Map<string, string>();
  const house = readMeridian();
  const base: Workspace = {
    revision: 1,
    house: situation === 'no-house' || situation === 'empty' ? null : house,
    aspect: 2.35,
    shots: [],
    rounds: [],
    settings: DEFAULT_SETTINGS,
    jobs: [],
    notices: [],
  };
  const staged = (workspace: Workspace, readings: readonly Reading[] = []): Staged => ({
    workspace,
    readings: new Map(readings.map((reading, i) => [i + 1, reading])),
    photographs,
    listeners: new Set(),
  });
  if (situation === 'empty') return staged(base);

  if (isPolarizerSituation(situation)) {
    // A ghost that was measured asks for a look at the ports.
    const work = situation === 'ports' ? await stage('ghosts') : staged(base);
    const polarizers = await stagePolarizers(situation, work.photographs);
    return { ...work, workspace: { ...work.workspace, polarizers } };
  }
  if (isTurnsSituation(situation)) {
    const work = await stageTurns(situation, house, (set, of, from) => read(set, of, photographs, from));
    const shown = work.readings.at(-1)!;
    const shots = shown.shots.map(({ role }) => shotOf(role as ShotSlot, shown));
    return staged({ ...base, house: work.house, shots, rounds: [...work.rounds] }, work.readings);
  }
  if (situation === 'mixed') {
    const mixed = await read('meridian-11-mixed', house, photographs);
    const shots = (['left-lens', 'right-lens'] as const).map((slot) => shotOf(slot, mixed));
    return staged({ ...base, shots, rounds: [roundOf(1, mixed)] }, [mixed]);
  }

  if (situation === 'ghosts') {
    const turned = { ...(await read('meridian-08-rotated-polarizer', house, photographs)), strays: [COPY] };
    const shots = (['left-lens', 'right-lens'] as const).map((slot) => shotOf(slot, turned));
    return staged({ ...base, shots, rounds: [roundOf(1, turned)] }, [turned]);
  }

  const vertical = await read('meridian-02-vertical', situation === 'no-house' ? undefined : house, photographs);
  const shots = (['left-lens', 'right-lens'] as const).map((slot) => shotOf(slot, vertical));
  if (situation === 'one-shot') return staged({ ...base, shots: shots.slice(0, 1) });
  if (situation === 'measuring') {
    const job = { id: 1, kind: 'measure', stage: 'looking', fraction: 0.4, state: 'running', failure: null } as const;
    return staged({ ...base, shots, jobs: [job] });
  }
  if (situation === 'refused') {
    const refused: Examination = {
      outcome: 'refused',
      code: 'blurred',
      message: 'The photograph through the right lens is not sharp enough to measure: edge blur 9.1 px.',
      remedy: 'Focus camera and projector on the screen, use the tripod with a self-timer, and photograph again.',
    };
    return staged({ ...base, shots: [shots[0]!, { ...shots[1]!, examination: refused }] });
  }
  if (situation === 'refused-round') {
    const refused = await readTwice('meridian-02-vertical');
    const { outcome, refusal } = refused;
    const unmeasured = { terms: null, worst_vertical_pct: null, predicted_worst_vertical_pct: null, verdict: null };
    const second = { ...roundOf(1, vertical), number: 2, outcome, sentence: refusal.message, ...unmeasured };
    return staged({ ...base, shots, rounds: [roundOf(1, vertical), second] }, [vertical, refused]);
  }
  if (situation !== 'rounds') {
    return staged({ ...base, shots, rounds: [roundOf(1, vertical)] }, [vertical]);
  }
  const aligned = await read('meridian-01-aligned', house, photographs);
  const made = vertical.turns.map(({ adjustment, direction, turns }) => ({ adjustment, direction, turns }));
  const after_turns = judgeTurnsMade(vertical, aligned, house, made);
  const rounds = [
    { ...roundOf(1, vertical), turns_made: made },
    { ...roundOf(2, aligned), after_turns },
  ];
  return staged(
    { ...base, shots: (['left-lens', 'right-lens'] as const).map((slot) => shotOf(slot, aligned)), rounds },
    [vertical, aligned],
  );
}

function readMeridian(): House {
  const read = readHouse(JSON.parse(readFileSync(join(IMAGES, 'meridian.house.json'), 'utf8')));
  if (read.outcome === 'refused') throw new Error('the house of the test images cannot be read');
  return read.house;
}

/** The same photographs in the same house give the same reading: they are measured once. */
const measured = new Map<string, Promise<Reading>>();

function remember(key: string, reading: ReturnType<typeof measurePhotographs>): Promise<Reading> {
  const worded = reading.then(translateReading);
  measured.set(key, worded);
  return worded;
}

async function read(
  set: string,
  house: House | undefined,
  photographs: Map<string, string>,
  from: 'pair' | 'bare' = 'pair',
): Promise<MeasuredReading> {
  const roles: readonly ShotSlot[] = from === 'bare' ? ['bare'] : ['left-lens', 'right-lens'];
  const sources = roles.map((role) => ({ role, path: join(IMAGES, set, `${role}.jpg`) }));
  for (const { path } of sources) photographs.set(createHash('sha256').update(readFileSync(path)).digest('hex'), path);
  const request = { photographs: sources, softwareVersion: '0.0.0' };
  const key = JSON.stringify([set, house, from]);
  const reading = await (measured.get(key) ??
    remember(key, measurePhotographs(house ? { ...request, house } : request)));
  if (reading.outcome === 'refused') throw new Error(`${set} is not measured: ${reading.refusal.message}`);
  return reading;
}

/** The photograph through the left lens given for both: refused. */
async function readTwice(set: string): Promise<RefusedReading> {
  const path = join(IMAGES, set, 'left-lens.jpg');
  const reading = translateReading(
    await measurePhotographs({ photographs: photographsOf(path, path), softwareVersion: '0.0.0' }),
  );
  if (reading.outcome !== 'refused') throw new Error(`one photograph of ${set} for both lenses is measured`);
  return reading;
}

function shotOf(slot: ShotSlot, reading: MeasuredReading): Shot {
  const { sha256, width_px, height_px } = reading.shots.find(({ role }) => role === slot)!;
  const marks = reading.evidence.marks.filter(({ shot }) => shot === slot);
  const shows = marks[0]!.eye;
  return {
    slot,
    name: `${slot}.jpg`,
    sha256,
    bytes: 2_400_000,
    width_px,
    height_px,
    source: 'file',
    frames: null,
    added_at: AT,
    examination: {
      outcome: 'usable',
      code: 'good',
      message: `Good: sharp, evenly lit, ${marks.length} marks of the ${shows}-eye picture.`,
      remedy: null,
      shows,
      leak_pct: null,
      blur_px: 1.1,
      clipped_pct: 0,
      brightest: 0.8,
      marks: marks.map(({ id, eye, photo_px: [x, y] }) => ({ id, eye, x, y })),
      expected: reading.marks.expected,
    },
  };
}

export function roundOf(number: number, reading: MeasuredReading): Round {
  const { worst_vertical_pct: worst, ...terms } = reading.misalignment;
  const outside = reading.findings.some(({ verdict, level }) => verdict === 'outside' && level === 'working');
  return {
    number,
    at: AT,
    outcome: 'measured',
    sentence: reading.sentence,
    terms,
    worst_vertical_pct: { value: worst.value, u: worst.u },
    predicted_worst_vertical_pct: reading.predicted_after.worst_vertical_pct,
    verdict: outside ? 'outside' : 'within',
    shots: Object.fromEntries(reading.shots.map(({ role, sha256 }) => [role, sha256])),
    turns_made: null,
  };
}
