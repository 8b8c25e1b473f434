import { describe, expect, it } from 'vitest';
import { explainAbsence } from '../../../src/application/shot/explain-absence.ts';
import type { MarkDetection } from '../../../src/vision/detect-marks.ts';
import { pixelsOf } from '../../vision/photograph-marks.ts';

const SIZE = [400, 300] as const;
const detection = (read: number, saddles = read): MarkDetection => ({
  marks: [],
  saddles,
  read,
  factor: 1,
  places: [],
});
const picture = (light: (x: number, y: number) => number) =>
  pixelsOf(
    Float64Array.from({ length: SIZE[0] * SIZE[1] }, (_, i) => light(i % SIZE[0], Math.floor(i / SIZE[0]))),
    ...SIZE,
    8,
  );

const stripes = picture((x) => (Math.floor(x / 25) % 2 ? 0.5 : 0.02));

describe('explainAbsence', () => {
  it('a few marks of this chart: the rest is out of sight', () => {
    expect(explainAbsence(stripes, detection(6), 4)).toMatchObject({ code: 'too-few-marks', facts: { found: 4 } });
  });

  it('many words of the codebook and no common view: marks of another target', () => {
    const result = explainAbsence(stripes, detection(40), 20);
    expect(result).toMatchObject({ code: 'inconsistent-marks', facts: { read: 40, identified: 20 } });
  });

  it('many words of which one in ten is in the codebook: no marks of ours', () => {
    expect(explainAbsence(stripes, detection(200, 300), 20)).toMatchObject({ code: 'no-target' });
  });

  it('nothing brighter than black: too little light', () => {
    expect(
      explainAbsence(
        picture(() => 0.004),
        detection(0),
        0,
      ),
    ).toMatchObject({ code: 'underexposed' });
  });

  it('a fifth of it burnt out: too much light', () => {
    const result = explainAbsence(
      picture((x) => (x < 120 ? 1 : 0.05)),
      detection(0),
      0,
    );
    expect(result).toMatchObject({ code: 'overexposed' });
    expect(Number(result.facts.clipped_pct)).toBeCloseTo(30, 0);
  });

  it('only soft edges: blurred', () => {
    expect(
      explainAbsence(
        picture((x) => 0.25 + 0.2 * Math.sin(x / 12)),
        detection(0),
        0,
      ),
    ).toMatchObject({ code: 'blurred', facts: { recognised: 'nothing' } });
  });

  it('only soft edges, but some marks: a target out of focus', () => {
    const soft = picture((x) => 0.25 + 0.2 * Math.sin(x / 12));
    expect(explainAbsence(soft, detection(5, 12), 5)).toMatchObject({ code: 'blurred', facts: {} });
  });

  it('sharp edges, but no marks: no target', () => {
    expect(explainAbsence(stripes, detection(2, 37), 0)).toMatchObject({ code: 'no-target', facts: { crossings: 37 } });
  });
});
