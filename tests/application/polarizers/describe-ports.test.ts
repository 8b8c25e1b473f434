import { describe, expect, it } from 'vitest';
import type { PortShotsResult } from '../../../src/application/polarizers/compare-port-shots.ts';
import { describePorts } from '../../../src/application/polarizers/describe-ports.ts';
import { CHECK_ROWS } from '../../../src/diagnosis/choose-check.ts';
import type { ComparedPorts, JudgedPort } from '../../../src/light/compare-ports.ts';

const SHOTS = { left: { path: '/l.jpg', name: 'l.jpg' }, right: { path: '/r.jpg', name: 'r.jpg' } };

const judged = (darkTo: JudgedPort['darkTo']): JudgedPort => ({
  darkTo,
  ratio: { value: 0.01, u: 0.002 },
  darkerThrough: darkTo === 'right' ? 'right' : 'left',
  angle_deg: 5.7,
});

function resultOf(ports: Partial<ComparedPorts>, arrangement: 'above' | 'beside' = 'above'): PortShotsResult {
  return {
    outcome: 'compared',
    ports: { verdict: 'each-its-own', first: judged('left'), second: judged('right'), firstServes: 'right', ...ports },
    arrangement,
    places: {
      first: { centre: { x: 10, y: 20 }, radius_px: 5 },
      second: { centre: { x: 11, y: 40 }, radius_px: 5 },
    },
    size: { width_px: 60, height_px: 50 },
    notes: ['burnt-out'],
  };
}

function describeCompared(result: PortShotsResult, upper?: 'left' | 'right') {
  const record = describePorts(SHOTS, result, upper, '1.2.3');
  if (record.outcome === 'refused') throw new Error('refused');
  return record;
}

describe('describePorts', () => {
  it.each([
    ['the upper port serves the right eye, as is usual', {}, undefined, 'as-expected', 'dark-to-the-other-eye'],
    ['it serves the left one', { firstServes: 'left' }, undefined, 'exchanged', 'dark-to-its-own-eye'],
    [
      'it serves the left one, and the house says so',
      { firstServes: 'left' },
      'left',
      'as-expected',
      'dark-to-the-other-eye',
    ],
    [
      'one is alike to both eyes',
      { verdict: 'one-neither', firstServes: null },
      undefined,
      'one-neither',
      'one-dark-to-neither',
    ],
    ['both are', { verdict: 'both-neither', firstServes: null }, 'right', 'both-neither', 'both-dark-to-neither'],
    ['both are dark to one eye', { verdict: 'both-one-eye', firstServes: null }, 'right', 'both-one-eye', null],
    ['nothing can be told', { verdict: 'unclear', firstServes: null }, 'right', 'unclear', null],
  ] as const)('%s', (_name, ports, upper, verdict, answer) => {
    const record = describeCompared(resultOf(ports), upper);
    expect(record.verdict).toBe(verdict);
    expect(record.expected).toEqual({ upper_port_shows: upper ?? 'right', by: upper ? 'house' : 'common-practice' });
    expect(record.answer).toEqual(answer && { check: 'look-at-ports-through-glasses', answer });
    expect(record.ports.map(({ place }) => place)).toEqual(['upper', 'lower']);
  });

  it('answers with what the check can be answered with', () => {
    const row = CHECK_ROWS.find(({ code }) => code === 'look-at-ports-through-glasses')!;
    const given = (['right', 'left'] as const).map((firstServes) => describeCompared(resultOf({ firstServes })).answer);
    const lost = (['one-neither', 'both-neither'] as const).map(
      (verdict) => describeCompared(resultOf({ verdict, firstServes: null })).answer,
    );
    expect([...given, ...lost].map((each) => each?.answer)).toEqual(row.answers);
  });

  it('expects nothing of ports side by side, and keeps places, parts and notes', () => {
    const record = describeCompared(resultOf({}, 'beside'), 'right');
    expect(record).toMatchObject({
      verdict: 'each-its-own',
      expected: null,
      answer: null,
      size: { width_px: 60 },
      notes: ['burnt-out'],
    });
    expect(record.ports[1]).toMatchObject({ place: 'right', dark_to: 'right', x_px: 11, y_px: 40, radius_px: 5 });
    expect(record.ports[0].kept_pct.value).toBeCloseTo(1, 9);
    expect(record.ports[0].kept_pct.u).toBeCloseTo(0.2, 9);
  });

  it('carries a refusal on with its photograph', () => {
    const refusal = { outcome: 'refused', code: 'unreadable-photo', facts: { reason: 'missing' } } as const;
    expect(describePorts(SHOTS, { outcome: 'refused', refusal, lens: 'right' }, undefined, '1')).toMatchObject({
      outcome: 'refused',
      refusal: { code: 'unreadable-photo', shot: 'right-lens', facts: { reason: 'missing' } },
    });
  });
});
