import { describe, expect, it } from 'vitest';
import { composeRefused } from '../../../src/application/pair/compose-reading.ts';
import { describeRefusalCauses } from '../../../src/application/pair/describe-causes.ts';
import { refuse } from '../../../src/kernel/refusal.ts';
import { reading } from '../../../src/record/reading.ts';
import { renderHtmlReport } from '../../../src/report/html/render-html.tsx';
import { renderTextReport } from '../../../src/report/text/render-text.ts';
import { translateReading } from '../../../src/wording/reading.ts';

describe('causes of a refusal', () => {
  it('are there where the refusal tells of the house', () => {
    const { causes, next_check } = describeRefusalCauses(refuse('same-eye-twice', { eye: 'left' }), null);
    expect(causes!.map(({ code }) => code)).toContain('picture-missing');
    expect(next_check!.code).toBe('look-at-screen-without-glasses');
  });

  it('name the picture that the dark photograph lacks', () => {
    const { causes } = describeRefusalCauses(refuse('underexposed', {}), 'right-lens');
    const missing = causes!.find(({ code }) => code === 'picture-missing')!;
    expect(missing.evidence).toEqual([{ name: 'missing_picture', value: 'right' }]);
  });

  it('are left out where it does not', () => {
    expect(describeRefusalCauses(refuse('blurred', {}), 'left-lens')).toEqual({});
  });

  it('stand in the record, the text and the page, with the cautions', () => {
    const composed = composeRefused('0.1.0', [], refuse('mirrored', {}), 'left-lens');
    const worded = translateReading(composed);
    expect(reading.parse(worded)).toEqual(worded);
    for (const shown of [renderTextReport(worded).replace(/\s+/g, ' '), renderHtmlReport(worded)]) {
      expect(shown).toContain('The film runs the wrong way round');
      expect(shown).toContain('Look at the screen without glasses');
      expect(shown).toContain('Moving film and gears');
    }
  });
});
