import { expect, it } from 'vitest';
import { renderBrief } from '../../../src/report/text/render-brief.ts';
import type { RefusedReading } from '../../../src/record/reading.ts';
import { translateReading } from '../../../src/wording/reading.ts';
import { sampleReading, sampleRefusal } from '../sample-reading.ts';

const turn = sampleReading.turns[0]!;
const withTurns = (count: number) =>
  translateReading({ ...sampleReading, turns: Array.from({ length: count }, (_, k) => ({ ...turn, order: k + 1 })) });

it('has the sentence, the verdict, the eyes, the turns and the first cautions', () => {
  const text = renderBrief(withTurns(1));
  const [first] = text.split('\n');
  expect(first).toMatch(/^Right-eye picture is/);
  expect(text).toContain('Verdict: outside tolerance.');
  expect(text).toContain('Eyes: Each eye sees its own picture.');
  expect(text).toMatch(/\n {2}1\. .* turn clockwise\. 45°/);
  expect(text).toContain('Safety: Nothing is adjusted while an audience is watching.');
  expect(text).not.toContain('Misalignment');
});

it.each([1, 4, 8])('fits 24 lines of 80 with %d turns', (count) => {
  const lines = renderBrief(withTurns(count), { width: 80 }).trimEnd().split('\n');
  expect(lines.length).toBeLessThan(24);
  expect(lines.filter((line) => /^ {2}\d+\. /.test(line))).toHaveLength(count);
});

it('says why photographs were refused, and what to do', () => {
  const refused = translateReading(sampleRefusal);
  const { message, remedy } = (refused as RefusedReading).refusal;
  expect(renderBrief(refused, { width: 100 }).replace(/\s+/g, ' ')).toBe(`${message} ${remedy} `);
});
