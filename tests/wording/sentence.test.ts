import { describe, expect, it } from 'vitest';
import { isPredictedInside } from '../../src/record/judge-reading.ts';
import type { MeasuredReading, ReadingFinding } from '../../src/record/reading.ts';
import { composeSentence } from '../../src/wording/sentence.ts';
import { sampleFinding, sampleReading } from '../report/sample-reading.ts';

const turn = sampleReading.turns[0]!;

function readingWith(changes: Partial<MeasuredReading>): MeasuredReading {
  return { ...sampleReading, ...changes };
}

function within(findings: readonly ReadingFinding[] = sampleReading.findings): ReadingFinding[] {
  return findings.map((finding) => ({ ...finding, verdict: 'within' as const }));
}

const ghost = sampleFinding({
  code: 'crosstalk-right',
  verdict: 'outside',
  value: 1.94,
  u: 0.04,
  limit: 1,
  unit: 'pct',
});
const noTurns = { turns: [], trial_turns: [], incurable: [] };

describe('the one sentence', () => {
  it('says the largest fault and the turn that cures it', () => {
    expect(composeSentence(sampleReading)).toBe(
      'Right-eye picture is 0.41 % too high. Upper screw, 1/8 turn clockwise; then you are within tolerance.',
    );
  });

  it('names screws without the description of their place', () => {
    const described = { ...turn, label: 'upper screw, on top of the attachment above the upper port' };
    expect(composeSentence(readingWith({ turns: [described] }))).toContain('Upper screw, 1/8 turn clockwise;');
  });

  it('names turns by hand in degrees, and at most three turns', () => {
    const byHand = { ...turn, label: 'whole attachment', turns: 0.4 / 360, degrees: { value: 0.4, u: 0.05 } };
    const turns = [byHand, turn, turn, turn, turn].map((one, i) => ({ ...one, order: i + 1 }));
    const sentence = composeSentence(readingWith({ turns }));
    expect(sentence).toContain('Whole attachment, 0.4° clockwise; upper screw, 1/8 turn clockwise');
    expect(sentence).toContain('2 more in the list');
  });

  it('leaves alone what is inside', () => {
    expect(composeSentence(readingWith({ ...noTurns, findings: within(), advice: 'leave-alone' }))).toBe(
      'Within tolerance: leave it.',
    );
  });

  it('of a photograph without glasses says that nobody has looked at the eyes', () => {
    const eyes = {
      assignment: 'not-looked-at',
      crosstalk_left_pct: null,
      crosstalk_right_pct: null,
      leak_left_lens_pct: null,
      leak_right_lens_pct: null,
    } as const;
    expect(composeSentence(readingWith({ ...noTurns, findings: within(), advice: 'leave-alone', eyes }))).toBe(
      'The geometry is within tolerance: leave it. Nobody has looked through the glasses yet: photograph through each lens before the show.',
    );
  });

  it('names a ghost that is not alike all over, though the ghost of the whole is small', () => {
    const local = { ...ghost, code: 'local-ghost', value: 8.2 };
    expect(composeSentence(readingWith({ ...noTurns, findings: [...within(), local] }))).toBe(
      'The pictures are within tolerance, but there is a ghost of up to 8.2 % in a part of the picture. No adjustment removes it: work through the checks in order.',
    );
  });

  it('names a stray copy where nothing else is outside', () => {
    const stray = {
      eye: 'left',
      shot: 'left-lens',
      offset_ih: [0, 0.7],
      u_ih: [0.001, 0.001],
      strength_pct: { value: 2.1, u: 0.2 },
      side: 'above',
      beyond_ih: 0.7,
      over_ih: 0.3,
      marks: 20,
    } as const;
    const outside = sampleFinding({
      code: 'stray-image',
      verdict: 'outside',
      value: 2.1,
      u: 0.2,
      limit: 1,
      unit: 'pct',
    });
    const findings = [...within(), outside];
    expect(composeSentence(readingWith({ ...noTurns, findings, strays: [stray] }))).toBe(
      'The pictures are within tolerance, but a stray copy of 2.1 % lies above the picture. No adjustment removes it: mask it as the causes say.',
    );
  });

  it('does not promise tolerance that the turns will not reach', () => {
    const predicted_after = { ...sampleReading.predicted_after, worst_vertical_pct: 0.45 };
    const sentence = composeSentence(readingWith({ predicted_after }));
    expect(isPredictedInside(readingWith({ predicted_after }))).toBe(false);
    expect(sentence).toMatch(/1\/8 turn clockwise; then photograph again\.$/);
  });

  it('promises tolerance with the whole of the uncertainty, and no more figures than it has', () => {
    const { vertical_offset_pct } = sampleReading.misalignment;
    const unsure = { ...vertical_offset_pct, u: 0.2 };
    const misalignment = { ...sampleReading.misalignment, vertical_offset_pct: unsure };
    const sentence = composeSentence(readingWith({ misalignment }));
    expect(sentence).toMatch(/^Right-eye picture is 0\.41 % too high.*then photograph again\.$/);
    const vague = { ...misalignment, vertical_offset_pct: { ...vertical_offset_pct, u: 0.7 } };
    expect(composeSentence(readingWith({ misalignment: vague }))).toMatch(/^Right-eye picture is 0\.4 % too high/);
  });

  it('says that the rest is nothing for a screw, but only when the rest is too much', () => {
    const incurable = [
      { term: 'size_pct', value: 0.6, u: 0.002, unit: 'pct', obstacle: 'no-adjustment', reasons: [] } as const,
    ];
    const predicted_after = { ...sampleReading.predicted_after, worst_vertical_pct: 0.45 };
    expect(composeSentence(readingWith({ incurable, predicted_after }))).toContain(
      'the remaining error is not adjustable',
    );
    expect(composeSentence(readingWith({ incurable }))).toMatch(/then you are within tolerance\.$/);
  });

  it('puts exchanged eyes before any screw', () => {
    const eyes = { ...sampleReading.eyes, assignment: 'swapped' as const };
    const sentence = composeSentence(readingWith({ eyes }));
    expect(sentence).toMatch(/^The eyes are swapped/);
    expect(sentence).not.toContain('1/8');
    const causes = [{ code: 'half-frame-threading', evidence: [], check_code: '', check: '' }];
    expect(composeSentence(readingWith({ eyes, causes }))).toContain('half a frame');
  });

  it('puts lost polarization before exchanged eyes', () => {
    const lost = sampleFinding({
      code: 'no-polarization',
      level: 'maximum',
      verdict: 'outside',
      value: 98,
      u: 1,
      limit: 50,
      unit: 'pct',
    });
    const eyes = { ...sampleReading.eyes, assignment: 'undetermined' as const };
    expect(composeSentence(readingWith({ eyes, findings: [lost, ...sampleReading.findings] }))).toContain(
      'the polarization is lost',
    );
  });

  it('speaks of the ghost when the pictures lie right, and after the turns when they do not', () => {
    const findings = [...within(sampleReading.findings.filter(({ code }) => code !== ghost.code)), ghost];
    expect(composeSentence(readingWith({ ...noTurns, findings }))).toContain('a ghost of 1.9 % through the right lens');
    const both = [...sampleReading.findings.filter(({ code }) => code !== ghost.code), ghost];
    const sentence = composeSentence(readingWith({ findings: both }));
    expect(sentence).toContain('1/8 turn clockwise');
    expect(sentence).toContain('a ghost of 1.9 %');
  });

  it('asks for better photographs when it is too close to tell', () => {
    const findings = sampleReading.findings.map((f) => ({
      ...f,
      verdict: f.code === 'vertical-offset' && f.level === 'working' ? ('undecided' as const) : ('within' as const),
    }));
    const sentence = composeSentence(readingWith({ ...noTurns, findings }));
    expect(sentence).toMatch(/^Too close to the limit to tell: right-eye picture is 0.41 % too high\./);
    expect(sentence).toContain('photographs again');
    // Where it is known what leads the uncertainty, that is what to do.
    const line = {
      source: 'print-eyes',
      basis: 'default',
      type: 'B',
      u: 0.05,
      share_pct: 100,
      degrees_of_freedom: null,
      constant: true,
    } as const;
    const budget = [
      {
        figure: 'vertical_offset_pct',
        lines: [line],
        u: 0.05,
        u_repeat: 0,
        degrees_of_freedom: null,
        expanded_95: 0.1,
      },
    ] as const;
    expect(composeSentence(readingWith({ ...noTurns, findings, budget }))).toMatch(/Have the print measured/);
  });

  it('says how the picture must go when no adjustment is described', () => {
    expect(composeSentence(readingWith({ ...noTurns, advice: 'motion-only' }))).toBe(
      'Right-eye picture is 0.41 % too high. Bring the right-eye picture 0.21 % down and the left-eye picture 0.21 % up, then photograph again.',
    );
  });

  it('asks for a trial turn when the effect of the screw is not known', () => {
    const trial = {
      adjustment: 'k',
      label: 'Knob K2 (rear)',
      moves: 'right',
      term: 'vertical_offset_pct',
      direction: 'clockwise',
      turns: 0.25,
      order: 1,
    } as const;
    expect(composeSentence(readingWith({ ...noTurns, trial_turns: [trial] }))).toContain(
      'turn the knob K2 1/4 turn clockwise, and photograph again',
    );
  });

  it('names the worst place only when no term explains it', () => {
    const findings = within().map((f) => (f.code === 'worst-vertical' ? { ...f, verdict: 'outside' as const } : f));
    expect(composeSentence(readingWith({ findings }))).toMatch(
      /^Right-eye picture is up to 0.49 % out in height \(upper right corner\)\./,
    );
  });

  it.each([
    ['vertical_offset_pct', 'vertical-offset', -0.3, 'is 0.30 % too low'],
    ['horizontal_offset_pct', 'horizontal-offset', 0.5, 'is 0.50 % too far right'],
    ['horizontal_offset_pct', 'horizontal-offset', -0.5, 'is 0.50 % too far left'],
    ['rotation_deg', 'rotation', 0.25, 'is rotated 0.25° counter-clockwise'],
    ['rotation_deg', 'rotation', -0.25, 'is rotated 0.25° clockwise'],
    ['size_pct', 'size', 0.7, 'is 0.70 % too large'],
    ['size_pct', 'size', -0.7, 'is 0.70 % too small'],
  ] as const)('%s: the sign of %s %f is "%s"', (field, code, value, words) => {
    const misalignment = { ...sampleReading.misalignment, [field]: { value, u: 0.001 } };
    const findings = [sampleFinding({ code, verdict: 'outside', value: 100 * value, u: 0.1, limit: 1 })];
    expect(composeSentence(readingWith({ misalignment, findings }))).toContain(`Right-eye picture ${words}.`);
  });
});
