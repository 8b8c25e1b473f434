/** Light in words: places, evenness, budget, and in short. */
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { computeBudget } from '../../src/application/light/compute-budget.ts';
import { defaultChain, readingOf } from '../../src/application/light/default-chain.ts';
import { describeLight } from '../../src/application/light/describe-light.ts';
import { EVENNESS_CODES } from '../../src/application/light/lit-pictures.ts';
import { judgeLimit } from '../../src/limits/judge-light.ts';
import { type UnwordedMeasuredEvenness, litPicture } from '../../src/record/evenness.ts';
import { EFFORTS, LIGHT_LIMIT_CODES, LIGHT_PLACES, STEP_CODES } from '../../src/record/light-codes.ts';
import type { Reading } from '../../src/record/reading.ts';
import { renderHtmlReport } from '../../src/report/html/render-html.tsx';
import { lampCaution } from '../../src/wording/cautions.ts';
import {
  EVENNESS_NOTE_CODES,
  formatEffort,
  formatHotSpot,
  formatLightFinding,
  formatLightSource,
  formatLuminance,
  formatPercent,
  nameBudgetStep,
  nameLightFinding,
  nameLitPicture,
  namePlace,
  summariseLight,
  translateBudget,
  translateChain,
  translateEvenness,
  translateEvennessNote,
  worstLightFinding,
} from '../../src/wording/light.ts';
import { LIGHT_REFUSAL_CODES, translateLightRefusal } from '../../src/wording/refusals.ts';
import { sampleReading } from '../report/sample-reading.ts';

describe('light', () => {
  const edge = (value: number, u = 0.005) => judgeLimit('edge-film', { value, u }, 'left-eye', 'top-left');

  describe('words of light', () => {
    it('name every place, picture and limit', () => {
      const names = [
        ...LIGHT_PLACES.map(namePlace),
        ...litPicture.options.map(nameLitPicture),
        ...LIGHT_LIMIT_CODES.map(nameLightFinding),
      ];
      expect(new Set(names).size).toBe(LIGHT_PLACES.length + litPicture.options.length + LIGHT_LIMIT_CODES.length);
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
});

describe('evenness', () => {
  const sorted = (codes: readonly string[]) => [...codes].toSorted();
  const ONE_SENTENCE = /^[A-Z][^.!?]*(?:[.](?=\S)[^.!?]*)*\.$/;

  describe('codes', () => {
    it('every note has words, and no words are left over', () => {
      expect(sorted(EVENNESS_NOTE_CODES)).toEqual(sorted(EVENNESS_CODES));
      for (const code of EVENNESS_CODES) {
        const { message, remedy } = translateEvennessNote(code);
        expect(message).toMatch(/^[A-Z].*\.$/);
        expect(remedy).toMatch(/^[A-Z].*\.$/);
      }
      expect(() => translateEvennessNote('tired')).toThrow('no message');
    });

    it.each(LIGHT_REFUSAL_CODES)('the refusal %s: one sentence each, with and without facts', (code) => {
      const facts = {
        found: 5,
        needed: 9,
        clipped_pct: 12,
        filled_pct: 71,
        leak_pct: 0.03,
        floor_pct: 0.5,
        limit_pct: 5,
      };
      for (const shot of ['left-lens', 'bare', 'flat-field', 'turned-camera', null]) {
        for (const given of [{}, { ...facts, corner_u_pct: 31 }]) {
          const { message, remedy } = translateLightRefusal(code, given, shot);
          expect(message).toMatch(ONE_SENTENCE);
          expect(remedy).toMatch(ONE_SENTENCE);
          expect(message).not.toContain('undefined');
        }
      }
    });

    it('names the photograph, also where a measurement has no name for it', () => {
      expect(translateLightRefusal('overexposed', {}, 'flat-field').message).toBe(
        'The photograph of the even surface is overexposed.',
      );
      expect(translateLightRefusal('no-target', {}, 'turned-camera').message).toBe(
        'The photograph with the camera panned shows no alignment target.',
      );
      expect(translateLightRefusal('too-few-samples', { found: 0, needed: 8 }, 'turned-camera')).toEqual({
        message:
          'The photograph with the camera panned shows too few places whose light counts: 0, at least 8 are needed.',
        remedy: expect.stringContaining('through the same lens as the first one'),
      });
      expect(translateLightRefusal('blurred', {}, 'left-lens').message).toContain('through the left lens');
      expect(() => translateLightRefusal('tired', {}, null)).toThrow('no message');
    });
  });

  const everywhere = <T>(item: T) => Object.fromEntries(LIGHT_PLACES.map((place) => [place, item])) as never;
  const hotSpot = {
    at: [0.2, 0.2] as const,
    u_ih: [0.01, 0.01] as const,
    distance_ih: 0.283,
    direction_deg: 45,
    of_centre_pct: { value: 112, u: 1 },
    significance: 12,
  };

  function recordOf(part: number, u: number, ratio?: number): UnwordedMeasuredEvenness {
    const right_over_left_pct = { value: 100 * (ratio ?? 1), u: 1 };
    const imbalance = { value: 1 - Math.min(ratio ?? 1, 1 / (ratio ?? 1)), u: 0.01 };
    return {
      schema: 'twinplumb.evenness/1',
      outcome: 'measured',
      software: { name: 'twinplumb', version: '1' },
      subject: 'target',
      aspect: 2.35,
      shots: [],
      vignetting: { method: 'flat-field', corner_pct: { value: 70, u: 20 } },
      pictures: [
        {
          picture: 'left-eye',
          role: 'left-lens',
          of_centre_pct: everywhere({ value: 90, u: 1 }),
          darkest: { place: 'top-left', value: 100 * part, u: 100 * u },
          hot_spot: hotSpot,
          right_over_left_pct: { value: 100, u: 1 },
          top_over_bottom_pct: { value: 100, u: 1 },
          luminance: null,
          tone: null,
          samples: { found: 48, used: 48, order: 4 },
          field: { columns: 1, rows: 1, of_centre_pct: [100], u_pct: [0] },
        },
      ],
      balance:
        ratio === undefined ? null : { right_over_left_pct, places_pct: everywhere(right_over_left_pct), colour: null },
      meter: null,
      findings: [
        judgeLimit('edge-film', { value: part, u }, 'left-eye', 'top-left'),
        ...(ratio === undefined ? [] : [judgeLimit('balance-comfort', imbalance, null, null)]),
      ],
      notes: [{ code: 'gain-depends-on-seat' }],
    };
  }

  function sentenceOf(...given: Parameters<typeof recordOf>): string {
    const record = translateEvenness(recordOf(...given));
    return record.outcome === 'measured' ? record.sentence : '';
  }

  describe('the sentence', () => {
    it.each([
      [0.86, 'The light is even enough: the upper left corner has 86 % of the centre’s light, minimum 75 %.'],
      [0.6, 'The light is uneven: the upper left corner has 60 % of the centre’s light, minimum 75 %.'],
      [
        0.755,
        'Whether the light is even enough is too close to tell: the upper left corner has 76 % of the centre’s light, minimum 75 %.',
      ],
    ])('%d', (part, words) => {
      expect(sentenceOf(part, 0.01)).toBe(words);
    });

    it('judges no corners where what the camera’s lens takes from them was assumed', () => {
      const known = recordOf(0.39, 0.08) as Extract<ReturnType<typeof recordOf>, { outcome: 'measured' }>;
      const record = translateEvenness({ ...known, vignetting: { ...known.vignetting, method: 'assumed' } });
      expect(record.outcome === 'measured' && record.sentence).toMatch(/^How even the light is is not known: /);
    });

    it.each([
      [1.01, / Both eyes get the same light\.$/],
      [0.85, / The right eye gets 85 % of the left eye’s light\.$/],
      [1.25, / The left eye gets 80 % of the right eye’s light\.$/],
      [0.6, / The right eye gets 60 % of the left eye’s light, which is too little\.$/],
    ])('right over left %d', (ratio, words) => {
      expect(sentenceOf(0.9, 0.01, ratio)).toMatch(words);
    });

    it('stands with remedies, and with whose the lamp house is', () => {
      const record = translateEvenness(recordOf(0.9, 0.01));
      expect(record).toMatchObject({ outcome: 'measured', notes: [{ code: 'gain-depends-on-seat' }] });
      if (record.outcome === 'measured') expect(record.cautions).toContain(lampCaution());
    });
  });

  describe('formatHotSpot', () => {
    it.each([
      [45, 'up and to the right'],
      [0, 'to the right'],
      [180, 'to the left'],
      [-180, 'to the left'],
      [-90, 'down'],
      [-135, 'down and to the left'],
    ])('%d degrees: %s', (direction_deg, words) => {
      expect(formatHotSpot({ ...hotSpot, direction_deg })).toBe(
        `The brightest place has 112 % of the centre’s light and lies 0.28 picture heights from the centre, ${words}.`,
      );
    });

    it('is the centre where nothing surely outshines it, and says where the edge ends it', () => {
      expect(formatHotSpot({ ...hotSpot, significance: 1 })).toContain('is the centre');
      expect(formatHotSpot({ ...hotSpot, distance_ih: 0.01 })).toContain('is the centre');
      expect(formatHotSpot({ ...hotSpot, u_ih: null })).toContain('at the edge of the picture');
    });
  });
});

describe('light in short', () => {
  const at = (lens: string) => join(import.meta.dirname, '../../test-images/meridian-08-rotated-polarizer', lens);

  it('says that evenness is not known from an assumed lens, what would tell it, and no figures', async () => {
    const pictures = (['left-lens', 'right-lens'] as const).map((role) => ({
      path: at(`${role}.jpg`),
      name: role,
      role,
    }));
    const record = translateEvenness(await describeLight({ subject: 'target', pictures, softwareVersion: '9.9.9' }));
    if (record.outcome !== 'measured') throw new Error(record.refusal.message);
    const edges = record.findings.filter(({ code }) => code === 'edge-film');
    expect(edges.map(({ verdict }) => verdict)).toEqual(['undecided', 'undecided']);
    const sentences = summariseLight(record);
    expect(sentences).toHaveLength(2);
    expect(sentences[0]).toMatch(/^How even the light is is not known: /);
    expect(sentences[1]).toMatch(/^Photograph an evenly lit surface/);
    const known = { ...record, notes: [], vignetting: { ...record.vignetting, method: 'flat-field' as const } };
    expect(summariseLight(known)[1]).toMatch(/^Darkest in the left-eye picture: the \w+ \w+ corner, /);
    expect(summariseLight(known)[2]).toMatch(/^Darkest in the right-eye picture: /);
    const html = renderHtmlReport(sampleReading as Reading, undefined, { light: record });
    for (const sentence of sentences) expect(html).toContain(`<p>${sentence}</p>`);
    expect(html).toMatch(/<dt>Camera<\/dt><dd>it saw the picture (square on|[\d.]+° from \w+)/);
    expect(renderHtmlReport(sampleReading as Reading)).not.toContain(record.sentence);
  });
});

describe('a budget', () => {
  const budgetOf = (start: number) =>
    translateBudget(
      computeBudget(defaultChain({ start: { luminance_cd_m2: readingOf(start) }, readFromMetallicScreen: true }), '1'),
    );

  it('tells where each usual factor comes from, and leaves the house’s own sources as they are', () => {
    const usual = defaultChain({ start: { luminance_cd_m2: readingOf(55) }, readFromMetallicScreen: false });
    expect(usual.steps.length).toBe(8);
    for (const { source, improvement } of translateChain(usual).steps) {
      expect(source).toMatch(/ /);
      expect(improvement?.assumption ?? 'a b').toMatch(/ /);
    }
    const [first, ...others] = usual.steps;
    const own = { ...usual, steps: [{ ...first!, source: 'measured here' }, ...others] };
    expect(translateChain(own).steps[0]!.source).toBe('measured here');
  });

  describe('translateBudget', () => {
    it.each([
      [55, /; that is too little\. Best gain for effort: attachment, clean it, 8 % more\.$/],
      [100, /; whether that is enough is too close to tell\./],
      [300, /% of the reading\. Best gain for effort/],
    ])('%d cd/m2', (start, words) => {
      expect(budgetOf(start).sentence).toMatch(words);
    });

    it('always says whose the lamp house is', () => {
      expect(budgetOf(55).cautions).toContain(lampCaution());
      expect(budgetOf(55).cautions.length).toBeGreaterThan(6);
    });
  });

  it('every step and every effort has a name', () => {
    for (const code of STEP_CODES) expect(nameBudgetStep({ code, label: null })).toMatch(/^[A-Z]/);
    for (const effort of EFFORTS) expect(formatEffort(effort)).toMatch(/^[a-z]/);
    expect(nameBudgetStep({ code: 'other', label: 'Heat filter' })).toBe('Heat filter');
  });
});
