import { describe, expect, it } from 'vitest';
import { alignColumns, layOut, markVerdict, wrapText } from '../../../src/report/text/text-layout.ts';

describe('layOut', () => {
  it('wraps at spaces and leaves a long path whole', () => {
    const path = `/${'x'.repeat(120)}`;
    expect(layOut(wrapText(`file ${path} end`, '- '))).toBe(`- file\n  ${path}\n  end`);
  });

  it('breaks no figure from its unit or its uncertainty', () => {
    const text = wrapText('the corner has 39.2 ± 14.8 % of the light');
    for (let width = 40; width < 60; width++) expect(layOut(text, { width })).not.toMatch(/±\n|\d\n%|\d\n±/);
  });

  it('sets columns that find no room below, behind the first one again', () => {
    const table = alignColumns('lrrr', [
      ['', 'value', 'repeatable', 'reference seat'],
      ['Vertical offset', '+0.55 %', '± 0.11', '5.6'],
    ]);
    expect(layOut(table, { width: 80 }).split('\n')).toHaveLength(2);
    expect(layOut(table, { width: 46 }).split('\n')).toEqual([
      '                     value  repeatable',
      '  Vertical offset  +0.55 %      ± 0.11',
      '                   reference seat',
      '  Vertical offset             5.6',
    ]);
  });

  it('breaks a long last cell behind what stands before it', () => {
    const table = alignColumns('ll', [['Rotation', '0.02 arcmin, limit 8.6 arcmin, nearest row']]);
    expect(layOut(table, { width: 42 }).split('\n')).toEqual([
      '  Rotation  0.02 arcmin, limit 8.6 arcmin,',
      '            nearest row',
    ]);
  });

  it('sets off the first line and headings, and colours verdicts, where colours are wanted', () => {
    const text = [
      wrapText('Too high.'),
      '',
      'Limits',
      alignColumns('ll', [['Size', markVerdict('outside', 'outside')]]),
    ].join('\n');
    expect(layOut(text)).toBe('Too high.\n\nLimits\n  Size  outside');
    expect(layOut(text, { colors: true })).toBe(
      '\u001b[1mToo high.\u001b[22m\n\n\u001b[1mLimits\u001b[22m\n  Size  \u001b[31moutside\u001b[39m',
    );
  });
});
