import { describe, expect, it } from 'vitest';
import { renderTextReport } from '../../../src/report/text/render-text.ts';
import { translateReading } from '../../../src/wording/reading.ts';
import { sampleReading, sampleRefusal } from '../sample-reading.ts';

const full = translateReading({
  ...sampleReading,
  turns: [
    { ...sampleReading.turns[0]!, label: 'upper screw, on top of the attachment above the upper port' },
    {
      ...sampleReading.turns[0]!,
      direction: 'counter-clockwise',
      order: 2,
      approach: { finish: 'clockwise', overshoot_turns: 0.25 },
    },
  ],
  findings: sampleReading.findings.map((finding) => ({ ...finding, seat_assumed: finding.seat !== null })),
  incurable: [
    {
      term: 'size_pct',
      value: 0.62,
      u: 0.002,
      unit: 'pct',
      obstacle: 'no-adjustment',
      reasons: ['path-lengths-differ'],
    },
  ],
  causes: [
    {
      code: 'projector-polarizer-turned',
      evidence: [
        { name: 'polarizer_angle_deg', value: 7.9, u: 0.2 },
        { name: 'polarizer_of_picture', value: 'left' },
      ],
      check_code: 'turn-projector-polarizer',
    },
  ],
  warnings: [{ code: 'marks-missing', facts: { missing: 1 } }],
});
const text = renderTextReport(full);

describe('the text report', () => {
  it('goes from the sentence over the numbers to turns, causes, cautions', () => {
    const places = [
      'Right-eye picture is 0.41 % too high.',
      'Misalignment:',
      'Turns, in this order',
      'Checks, in this order',
      'Causes, the likeliest first',
      'Cautions',
    ].map((part) => text.indexOf(part));
    expect(places[0]).toBe(0);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(places).not.toContain(-1);
  });

  it.each([100, 80, 64])('keeps to the width of a terminal of %d', (width) => {
    const lines = renderTextReport(full, undefined, { width }).split('\n');
    for (const line of lines) expect(line.length, line).toBeLessThanOrEqual(width);
    expect(Math.max(...lines.map((line) => line.length))).toBeGreaterThan(width - 12);
  });

  it('aligns the columns of the terms', () => {
    const rows = text.split('\n').filter((line) => /^ {2}(Vertical|Horizontal|Size|Keystone)/.test(line));
    const terms = rows.filter((line) => line.includes('±'));
    expect(terms).toHaveLength(5);
    expect(new Set(terms.map((line) => line.length)).size).toBe(1);
    expect(terms[0]).toMatch(/Vertical offset +\+0\.4120 % +± 0\.0022 +- +18 +9\.6 +4\.2$/);
  });

  it('writes a minus that programs can read', () => {
    expect(text).toContain('-0.0090 %');
    expect(text).not.toContain('−');
  });

  it('says how the play is taken up, in turns that a hand can count', () => {
    expect(text).toContain('2. Upper screw, 3/8 turn counter-clockwise, then 1/4 turn clockwise\n');
    expect(text).toContain('In all 1/8 turn counter-clockwise; going past and back takes up backlash.');
    expect(text).toContain('135°: 2 1/4 of a hexagon’s flat, 1 1/2 of a slot’s quarter.');
  });

  it('says the cause with its angle and its check', () => {
    expect(text).toContain('The polarizer of the left-eye picture at the projector is turned by about 7.9°.');
    expect(text).toContain('1. Turn the polarizer at the projector');
    expect(text.replaceAll(/\s+/g, ' ')).toContain('minimum. The polarizer is hot: dowser shut');
    expect(text).toContain('Verdict: outside tolerance.');
  });

  it('flags the limit that is from memory', () => {
    expect(text).not.toContain('unconfirmed');
    const findings = sampleReading.findings.filter(({ confirmed }) => !confirmed);
    expect(renderTextReport(translateReading({ ...sampleReading, findings }))).toContain('from memory, unconfirmed');
  });

  it('gives a refusal two sentences', () => {
    expect(renderTextReport(translateReading(sampleRefusal)).replaceAll('\n', ' ').trim()).toBe(
      'The camera, or the film in the gate, moved between the two photographs, by 14 px.  Lock the tripod, release the shutter without touching the camera, let the film or loop settle, and take both photographs again.',
    );
  });
});
