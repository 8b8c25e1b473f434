import { describe, expect, it } from 'vitest';
import {
  bitCount,
  CODE_DISTANCE,
  CODE_SECTORS,
  codeDistance,
  codeWords,
  halfTurned,
  mirrored,
} from '../../src/target/codebook.ts';

const words = codeWords(150);

describe('code words', () => {
  it('half-turning twice and mirroring twice give the word back', () => {
    for (const word of words) {
      expect(halfTurned(halfTurned(word))).toBe(word);
      expect(mirrored(mirrored(word))).toBe(word);
    }
  });

  it('mirroring puts sector j where sector 15 - j was', () => {
    for (let j = 0; j < CODE_SECTORS; j++) expect(mirrored(1 << j)).toBe(1 << (CODE_SECTORS - 1 - j));
    expect(halfTurned(1)).toBe(1 << 8);
  });

  it('differ in four sectors from every other word, half turned and mirrored forms and own forms included', () => {
    let least = CODE_SECTORS;
    for (const word of words) {
      for (const other of words) {
        const forms = [halfTurned(other), mirrored(other), mirrored(halfTurned(other))];
        if (other !== word) forms.push(other);
        for (const form of forms) least = Math.min(least, codeDistance(word, form));
      }
    }
    expect(least).toBe(CODE_DISTANCE);
  });

  it('show both bright and black sectors', () => {
    for (const word of words) {
      expect(bitCount(word)).toBeGreaterThanOrEqual(6);
      expect(bitCount(word)).toBeLessThanOrEqual(10);
    }
  });

  it('says so when more are asked for than exist', () => {
    expect(() => codeWords(5000)).toThrow(RangeError);
  });
});
