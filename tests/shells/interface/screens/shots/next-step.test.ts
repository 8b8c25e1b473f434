import { describe, expect, it } from 'vitest';
import type { Examination, Shot, ShownEye } from '../../../../../src/contract/shots.ts';
import type { Job, Round, Workspace } from '../../../../../src/contract/workspace.ts';
import {
  findNextStep,
  findPairConcern,
  formatFacts,
  frameMarks,
} from '../../../../../src/shells/interface/screens/shots/next-step.ts';
import type { ShotSlot } from '../../../../../src/record/roles.ts';

const usable = (shows: ShownEye) => ({ outcome: 'usable', shows }) as Examination;
const refused: Examination = { outcome: 'refused', code: 'dark', message: 'Dark.', remedy: 'Light.' };
const shot = (slot: ShotSlot, examination: Examination | null, sha256 = slot) =>
  ({ slot, examination, sha256 }) as unknown as Shot;
const work = (shots: Shot[], change: Partial<Workspace> = {}) =>
  ({ shots, jobs: [], rounds: [], ...change }) as unknown as Workspace;

const left = shot('left-lens', usable('left'));
const right = shot('right-lens', usable('right'));

describe('the next step', () => {
  it('goes from nothing over one photograph to measuring', () => {
    expect(findNextStep(work([]))).toEqual({ step: 'both' });
    expect(findNextStep(work([left]))).toEqual({ step: 'right' });
    expect(findNextStep(work([right]))).toEqual({ step: 'left' });
    expect(findNextStep(work([left, shot('right-lens', null)]))).toEqual({ step: 'wait' });
    expect(findNextStep(work([left, right]))).toEqual({ step: 'measure' });
  });

  it('is to take again what cannot be used', () => {
    expect(findNextStep(work([left, shot('right-lens', refused)]))).toEqual({ step: 'again', slots: ['right-lens'] });
    expect(findNextStep(work([shot('left-lens', refused)]))).toEqual({ step: 'again', slots: ['left-lens'] });
  });

  it('does not ask more of a closing or a bare photograph', () => {
    expect(findNextStep(work([left, right, shot('bare', refused)]))).toEqual({ step: 'measure' });
  });

  it('measures again where a closing photograph came later', () => {
    const at = (minute: number) => ({ added_at: `2026-03-14T18:0${minute}:00Z` });
    const pair = [
      { ...left, ...at(1) },
      { ...right, ...at(2) },
    ];
    const round = { shots: { 'left-lens': 'left-lens', 'right-lens': 'right-lens' } } as Round;
    const closing = { ...shot('closing', usable('left')), ...at(3) };
    expect(findNextStep(work(pair, { rounds: [round] }))).toEqual({ step: 'measured' });
    expect(findNextStep(work([...pair, closing], { rounds: [round] }))).toEqual({ step: 'measure' });
    // One of an earlier series changes nothing.
    expect(findNextStep(work([...pair, { ...closing, ...at(0) }], { rounds: [round] }))).toEqual({ step: 'measured' });
    const closed = { shots: { ...round.shots, closing: 'closing' } } as Round;
    expect(findNextStep(work([...pair, closing], { rounds: [closed] }))).toEqual({ step: 'measured' });
  });

  it('sees the same photograph at both places', () => {
    expect(findNextStep(work([left, shot('right-lens', usable('left'), 'left-lens')]))).toEqual({ step: 'twice' });
  });

  it('waits for a measurement, and knows when these two are measured', () => {
    const job = { kind: 'measure', state: 'running' } as Job;
    expect(findNextStep(work([left, right], { jobs: [job] }))).toEqual({ step: 'measuring' });
    const round = { shots: { 'left-lens': 'left-lens', 'right-lens': 'right-lens' } } as Round;
    expect(findNextStep(work([left, right], { rounds: [round] }))).toEqual({ step: 'measured' });
    const other = { shots: { 'left-lens': 'right-lens', 'right-lens': 'left-lens' } } as Round;
    expect(findNextStep(work([left, right], { rounds: [round, other] }))).toEqual({ step: 'measure' });
  });
});

describe('concerns about a pair', () => {
  const concern = (a: ShownEye, b: ShownEye) =>
    findPairConcern(work([shot('left-lens', usable(a)), shot('right-lens', usable(b))]));

  it('are exchanged eyes, the same eye twice, and no glasses at all', () => {
    expect(concern('left', 'right')).toBeNull();
    expect(concern('right', 'left')).toBe('exchanged');
    expect(concern('left', 'left')).toBe('both-left');
    expect(concern('right', 'right')).toBe('both-right');
    expect(concern('both', 'both')).toBe('without-glasses');
    expect(concern('left', 'both')).toBeNull();
  });

  it('are none before both photographs can be used', () => {
    expect(findPairConcern(work([left]))).toBeNull();
    expect(findPairConcern(work([left, shot('right-lens', refused)]))).toBeNull();
  });
});

type Usable = Extract<Examination, { outcome: 'usable' }>;

const seen = (eye: 'left' | 'right', ...ids: string[]) => ids.map((id) => ({ id, eye, x: 0, y: 0 }));
const examination: Usable = {
  outcome: 'usable',
  code: 'good',
  message: 'Good.',
  remedy: null,
  shows: 'left',
  leak_pct: 1.25,
  blur_px: 1.06,
  clipped_pct: 0.01,
  brightest: 0.804,
  marks: [...seen('left', 'a', 'b', 'c'), ...seen('right', 'a', 'd')],
  expected: 48,
};

describe('the numbers of a photograph', () => {
  it('are of the picture that it shows', () => {
    expect(formatFacts(examination)).toEqual([
      'shows the left-eye picture',
      '3 of 48 marks',
      'edges 1.1 px soft',
      'brightest at 80 %',
      'nothing burnt out',
      'other eye 1.3 %',
    ]);
  });

  it('leave out what is not known, and name what is burnt out', () => {
    expect(formatFacts({ ...examination, shows: 'both', leak_pct: null, clipped_pct: 2 })).toEqual([
      'shows both pictures alike',
      '4 of 48 marks',
      'edges 1.1 px soft',
      'brightest at 80 %',
      '2.0 % burnt out',
    ]);
  });
});

const grid = (x0: number, x1: number, y0: number, y1: number) =>
  [0, 0.5, 1].flatMap((u) => [0, 0.5, 1].map((v) => ({ x: x0 + u * (x1 - x0), y: y0 + v * (y1 - y0) })));

describe('the part of a photograph that is shown', () => {
  it('is all of it where hardly any marks were found', () => {
    expect(frameMarks([{ x: 5, y: 5 }], 400, 300)).toEqual({ x: -0.5, y: -0.5, width: 400, height: 300 });
  });

  it('is the region of the marks with a tenth of its width around it', () => {
    expect(frameMarks(grid(1000, 3000, 1000, 1900), 4000, 3000)).toEqual({ x: 800, y: 800, width: 2400, height: 1300 });
  });

  it('never reaches beyond the photograph', () => {
    expect(frameMarks(grid(0, 399, 0, 299), 400, 300)).toEqual({ x: -0.5, y: -0.5, width: 400, height: 300 });
  });
});
