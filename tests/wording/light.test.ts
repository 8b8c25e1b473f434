import { describe, expect, it } from 'vitest';
import { judgeLimit } from '../../src/limits/judge-light.ts';
import { LIGHT_FINDING_CODES, litPicture, PLACE_NAMES } from '../../src/record/light-finding.ts';
import {
  formatLuminance,
  formatPercent,
  nameLightFinding,
  nameLitPicture,
  namePlace,
  formatLightFinding,
  formatLightSource,
  worstLightFinding,
} from '../../src/wording/light.ts';

const edge = (value: number, u = 0.005) => judgeLimit('edge-film', { value, u }, 'left-eye', 'top-left');

describe('words of light', () => {
  it('name every place, picture and limit', () => {
    const names = [
      ...PLACE_NAMES.map(namePlace),
      ...litPicture.options.map(nameLitPicture),
      ...LIGHT_FINDING_CODES.map(nameLightFinding),
    ];
    expect(new Set(names).size).toBe(PLACE_NAMES.length + litPicture.options.length + LIGHT_FINDING_CODES.length);
  });

  it('give the 95 % interval, and footlamberts beside', () => {
    const cd_m2 = { value: 15.417, u: 0.31 };
    expect(formatLuminance({ cd_m2, fL: { value: 4.4996, u: 0.09 } })).toBe('15.42 ± 0.62 cd/m² (4.5 fL)');
    expect(formatPercent({ value: 81.26, u: 0.61 })).toBe('81.3 ± 1.2 %');
    expect(formatPercent({ value: 100, u: 0 })).toBe('100 %');
  });

  it('say where the darkest place is and what is asked', () => {
    expect(formatLightFinding(edge(0.68))).toBe('68 % (upper left corner), at least 75 %');
    expect(formatLightFinding(judgeLimit('balance-comfort', { value: 0.31, u: 0.01 }, null, null))).toBe(
      '31 %, at most 25 %',
    );
  });

  it('flag every source that is not published', () => {
    expect(formatLightSource('A book', 'published')).toBe('A book');
    expect(formatLightSource('A book', 'from-memory')).toBe('A book (from memory, unconfirmed)');
    expect(formatLightSource('A book', 'as-reported')).toBe('A book (as reported by others)');
    expect(formatLightSource('A rule', 'common-practice')).toBe('A rule (common practice)');
  });

  it('find the worse of two', () => {
    expect(worstLightFinding([edge(0.9), edge(0.6), edge(0.75)], 'edge-film')!.value).toBe(60);
    expect(worstLightFinding([edge(0.9), edge(0.8)], 'edge-film')!.value).toBe(80);
    expect(worstLightFinding([edge(0.9)], 'at-the-eye')).toBeUndefined();
  });
});
