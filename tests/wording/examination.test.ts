import { describe, expect, it } from 'vitest';
import { EXAMINATION_CODES, translateExamination } from '../../src/wording/examination.ts';
import type { ExaminationCode } from '../../src/application/shot/judge-shot.ts';

const usable = (code: string, facts = {}, shows: 'left' | 'right' | 'both' = 'left') =>
  translateExamination({ outcome: 'usable', code, facts, shows }, 'left-lens');

/** One sentence: begins with a capital and ends with its only full stop. */
const ONE_SENTENCE = /^[A-Z][^.!?]*(?:[.](?=\d)[^.!?]*)*\.$/;

describe('translateExamination', () => {
  it('has words for every code, and for no other', () => {
    // The compiler keeps this list complete.
    const codes: Record<ExaminationCode, true> = {
      bright: true,
      dim: true,
      soft: true,
      'few-marks': true,
      small: true,
      oblique: true,
      'both-eyes': true,
      good: true,
      'both-pictures': true,
      'one-picture': true,
    };
    expect([...EXAMINATION_CODES].toSorted()).toEqual(Object.keys(codes).toSorted());
    expect(() => usable('tired')).toThrow('no message');
  });

  it.each(EXAMINATION_CODES)('%s: one sentence and, where something might be better, one remedy', (code) => {
    for (const facts of [
      {},
      { found: 40, expected: 48, clipped: 3, light_pct: 9.4, blur_px: 2.31, height_px: 412, angle_deg: 41.2 },
    ]) {
      for (const shows of ['left', 'right', 'both'] as const) {
        const { message, remedy } = usable(code, facts, shows);
        expect(message).toMatch(ONE_SENTENCE);
        expect(message).not.toContain('undefined');
        if (code === 'good' || code === 'both-pictures') expect(remedy).toBeNull();
        else expect(remedy).toMatch(ONE_SENTENCE);
      }
    }
  });

  it('says what is seen and how much of it', () => {
    expect(usable('good', { found: 48, expected: 48 }, 'right').message).toBe(
      'Sharp and well exposed, it shows the right-eye picture: 48 of 48 marks.',
    );
    expect(usable('bright', { clipped: 1 }).message).toContain('but 1 mark is burnt out');
    expect(usable('small', { height_px: 412.3 }).message).toContain('412 px high');
  });

  it('says of a bare photograph what the pictures are to each other', () => {
    const share = { weaker: 'right', share_pct: 93.07, share_u_pct: 0.21 };
    expect(usable('both-pictures', share, 'both').message).toBe(
      'Both pictures are on the screen; the right-eye picture has 93.07 ± 0.42 % of the light of the other one.',
    );
    expect(usable('one-picture', { weaker: 'left' }, 'right').message).toBe(
      'The left-eye picture is missing, or far fainter than its neighbour.',
    );
    expect(usable('one-picture', { weaker: 'left', share_pct: 21.4 }, 'right').message).toBe(
      'The pictures are far from equally bright: the left-eye picture has 21 % of the light of the other one.',
    );
  });

  it('words a refusal as a measurement does, for every slot', () => {
    const refused = { outcome: 'refused', code: 'blurred', facts: { blur_px: 9.3, limit_px: 6 } } as const;
    for (const [slot, name] of [
      ['left-lens', 'The photograph through the left lens'],
      ['closing', 'The closing photograph'],
      ['bare', 'The photograph without glasses'],
    ] as const) {
      const { message, remedy } = translateExamination(refused, slot);
      expect(message).toBe(`${name} is not sharp enough to measure: edge blur 9.3 px, limit 6 px.`);
      expect(remedy).toMatch(ONE_SENTENCE);
    }
  });
});
