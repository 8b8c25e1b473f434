import { describe, expect, it } from 'vitest';
import type { Examination, Shot, ShownEye } from '../../../../../src/contract/shots.ts';
import type { Job, Round, Workspace } from '../../../../../src/contract/workspace.ts';
import type { ShotSlot } from '../../../../../src/record/roles.ts';
import {
  findConcern,
  findNextStep,
  formatFacts,
  frameMarks,
  listLeftOut,
  listPlace,
} from '../../../../../src/shells/interface/screens/shots/next-step.ts';

const usable = (shows: ShownEye) => ({ outcome: 'usable', shows }) as Examination;
const refused: Examination = { outcome: 'refused', code: 'dark', message: 'Dark.', remedy: 'Light.' };
const shot = (slot: ShotSlot, examination: Examination | null, sha256: string = slot) =>
  ({ slot, examination, sha256, added_at: '' }) as unknown as Shot;
const work = (shots: Shot[], change: Partial<Workspace> = {}) =>
  ({ shots, jobs: [], rounds: [], ...change }) as unknown as Workspace;

const left = shot('left-lens', usable('left'));
const right = shot('right-lens', usable('right'));

const bare = shot('bare', usable('both'));
const roundOf = (shots: Round['shots'], change: Partial<Round> = {}) =>
  ({ number: 1, shots, verdict: 'outside', turns_made: null, ...change }) as Round;
const PAIR = { 'left-lens': 'left-lens', 'right-lens': 'right-lens' };

describe('the next step', () => {
  it('goes from nothing over one photograph without glasses to all three', () => {
    expect(findNextStep(work([]))).toEqual({ step: 'begin' });
    expect(findNextStep(work([shot('bare', null)]))).toEqual({ step: 'wait' });
    expect(findNextStep(work([bare]))).toEqual({ step: 'measure', from: 'bare', wanted: 'lenses' });
    expect(findNextStep(work([bare, left]))).toEqual({ step: 'measure', from: 'bare', wanted: 'right' });
    expect(findNextStep(work([bare, right]))).toEqual({ step: 'measure', from: 'bare', wanted: 'left' });
    expect(findNextStep(work([bare, left, right]))).toEqual({ step: 'measure', from: 'all', wanted: 'none' });
  });

  it('does without it where there is one through each lens', () => {
    expect(findNextStep(work([left]))).toEqual({ step: 'right' });
    expect(findNextStep(work([right]))).toEqual({ step: 'left' });
    expect(findNextStep(work([left, shot('right-lens', null)]))).toEqual({ step: 'wait' });
    expect(findNextStep(work([left, right]))).toEqual({ step: 'measure', from: 'pair', wanted: 'none' });
  });

  it('is one photograph without glasses in every round after', () => {
    const rounds = [roundOf({ bare: 'bare', ...PAIR })];
    expect(findNextStep(work([bare, left, right], { rounds }))).toEqual({ step: 'measured', after: 'turn' });
    expect(findNextStep(work([], { rounds }))).toEqual({ step: 'round' });
    const next = work([left, right, shot('bare', usable('both'), 'next')], { rounds });
    expect(findNextStep(next)).toEqual({ step: 'measure', from: 'bare', wanted: 'none' });
    expect(listLeftOut(next)).toEqual(['left-lens', 'right-lens']);
  });

  it('is a look through both lenses at the end', () => {
    const within = { verdict: 'within' } as const;
    const rounds = [roundOf({ bare: 'bare' }, { verdict: 'geometry-within' })];
    expect(findNextStep(work([bare], { rounds }))).toEqual({ step: 'measured', after: 'close' });
    expect(findNextStep(work([bare, left, right], { rounds }))).toEqual({
      step: 'measure',
      from: 'all',
      wanted: 'none',
    });
    const closed = [...rounds, roundOf({ bare: 'bare', ...PAIR }, { ...within, number: 2 })];
    expect(findNextStep(work([bare, left, right], { rounds: closed }))).toEqual({ step: 'measured', after: 'leave' });
  });

  it('is to take again what cannot be used', () => {
    expect(findNextStep(work([left, shot('right-lens', refused)]))).toEqual({ step: 'again', slots: ['right-lens'] });
    expect(findNextStep(work([shot('left-lens', refused)]))).toEqual({ step: 'again', slots: ['left-lens'] });
    expect(findNextStep(work([left, right, shot('bare', refused)]))).toEqual({ step: 'again', slots: ['bare'] });
  });

  it('does not ask more of a closing photograph', () => {
    const closing = { ...shot('closing', refused), added_at: '2026-03-14T18:03:00Z' };
    expect(findNextStep(work([left, right, closing]))).toMatchObject({ step: 'measure' });
  });

  it('measures again where a closing photograph came later', () => {
    const at = (minute: number) => ({ added_at: `2026-03-14T18:0${minute}:00Z` });
    const pair = [
      { ...left, ...at(1) },
      { ...right, ...at(2) },
    ];
    const round = roundOf(PAIR);
    const closing = { ...shot('closing', usable('left')), ...at(3) };
    expect(findNextStep(work(pair, { rounds: [round] })).step).toBe('measured');
    expect(findNextStep(work([...pair, closing], { rounds: [round] })).step).toBe('measure');
    // One of an earlier series changes nothing.
    expect(findNextStep(work([...pair, { ...closing, ...at(0) }], { rounds: [round] })).step).toBe('measured');
    const closed = roundOf({ ...PAIR, closing: 'closing' });
    expect(findNextStep(work([...pair, closing], { rounds: [closed] })).step).toBe('measured');
  });

  it('begins with empty places after turns, or when the next round was begun', () => {
    const turned = roundOf({ bare: 'bare' }, { turns_made: [{ adjustment: 'a', direction: 'clockwise', turns: 1 }] });
    expect(findNextStep(work([bare], { rounds: [turned] }))).toEqual({ step: 'round' });
    const rounds = [roundOf({ bare: 'bare' })];
    expect(findNextStep(work([bare], { rounds, past_round: 1 }))).toEqual({ step: 'round' });
    const fresh = shot('bare', usable('both'), 'fresh');
    expect(listPlace(work([bare, fresh], { rounds, past_round: 1 }), 'bare')).toEqual({
      present: [fresh],
      past: [bare],
    });
    expect(findNextStep(work([bare, fresh], { rounds, past_round: 1 }))).toMatchObject({
      step: 'measure',
      from: 'bare',
    });
  });

  it('sees photographs that cannot be measured together', () => {
    const strange = { ...usable('left'), code: 'same-eye-twice' } as Examination;
    expect(findNextStep(work([left, shot('right-lens', strange)]))).toEqual({ step: 'conflict' });
    expect(findConcern(work([left, shot('right-lens', strange)]))).toBeNull();
  });

  it('sees the same photograph at two places', () => {
    expect(findNextStep(work([left, shot('right-lens', usable('left'), 'left-lens')]))).toEqual({ step: 'twice' });
  });

  it('waits for a measurement, and knows when these two are measured', () => {
    const job = { kind: 'measure', state: 'running' } as Job;
    expect(findNextStep(work([left, right], { jobs: [job] }))).toEqual({ step: 'measuring' });
    expect(findNextStep(work([left, right], { rounds: [roundOf(PAIR)] })).step).toBe('measured');
    const other = roundOf({ 'left-lens': 'right-lens', 'right-lens': 'left-lens' }, { number: 2 });
    expect(findNextStep(work([left, right], { rounds: [roundOf(PAIR), other] })).step).toBe('measure');
  });
});

describe('concerns about photographs', () => {
  const concern = (a: ShownEye, b: ShownEye) =>
    findConcern(work([shot('left-lens', usable(a)), shot('right-lens', usable(b))]));

  it('are exchanged eyes, the same eye twice, and no glasses at all', () => {
    expect(concern('left', 'right')).toBeNull();
    expect(concern('right', 'left')).toBe('exchanged');
    expect(concern('left', 'left')).toBe('both-left');
    expect(concern('right', 'right')).toBe('both-right');
    expect(concern('both', 'both')).toBe('without-glasses');
    expect(concern('left', 'both')).toBeNull();
  });

  it('are one eye where no glasses should be', () => {
    expect(findConcern(work([shot('bare', usable('left'))]))).toBe('bare-one-eye');
    expect(findConcern(work([bare]))).toBeNull();
  });

  it('are none before both photographs can be used, nor of those that are left out', () => {
    expect(findConcern(work([left]))).toBeNull();
    expect(findConcern(work([left, shot('right-lens', refused)]))).toBeNull();
    const old = [shot('left-lens', usable('right')), shot('right-lens', usable('left'))];
    const rounds = [roundOf({ ...PAIR, bare: 'before' })];
    expect(findConcern(work([...old, bare], { rounds }))).toBeNull();
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
      'edge blur 1.1 px',
      'brightest at 80 %',
      'nothing burnt out',
      'other eye 1.3 %',
    ]);
  });

  it('leave out what is not known, and name what is burnt out', () => {
    expect(formatFacts({ ...examination, shows: 'both', leak_pct: null, clipped_pct: 2 })).toEqual([
      'shows both pictures alike',
      '3 left-eye and 2 right-eye marks',
      'edge blur 1.1 px',
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
