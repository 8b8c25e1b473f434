/** The light of a set whose truth is known, told in a few sentences, as `measure` and its report have it. */
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { describeLight } from '../../src/application/light/describe-light.ts';
import type { Reading } from '../../src/record/reading.ts';
import { renderHtmlReport } from '../../src/report/html/render-html.ts';
import { translateEvenness } from '../../src/wording/evenness.ts';
import { summariseLight } from '../../src/wording/light-summary.ts';
import { sampleReading } from '../report/sample-reading.ts';

const at = (lens: string) => join(import.meta.dirname, '../../test-images/meridian-08-rotated-polarizer', lens);

it('is the verdict, each picture’s darkest place, and why no more is known', async () => {
  const pictures = (['left-lens', 'right-lens'] as const).map((role) => ({
    path: at(`${role}.jpg`),
    name: role,
    role,
  }));
  const record = translateEvenness(await describeLight({ subject: 'target', pictures, softwareVersion: '9.9.9' }));
  if (record.outcome !== 'measured') throw new Error(record.refusal.message);
  const sentences = summariseLight(record);
  expect(sentences).toHaveLength(4);
  expect(sentences[0]).toBe(record.sentence);
  record.pictures.forEach(({ darkest }, i) => {
    expect(darkest.value).toBe(Math.min(...Object.values(record.pictures[i]!.of_centre_pct).map(({ value }) => value)));
    expect(Number(/, ([\d.]+) ± /.exec(sentences[1 + i]!)![1]) / darkest.value).toBeCloseTo(1, 1);
  });
  expect(sentences[1]).toMatch(/^Darkest in the left-eye picture: the \w+ \w+ corner, /);
  expect(sentences[2]).toMatch(/^Darkest in the right-eye picture: /);
  const html = renderHtmlReport(sampleReading as Reading, undefined, { light: record });
  for (const sentence of sentences) expect(html).toContain(`<p>${sentence}</p>`);
  expect(html).toMatch(/<dt>Camera<\/dt><dd>it saw the picture (square on|[\d.]+° from \w+)/);
  expect(renderHtmlReport(sampleReading as Reading)).not.toContain(record.sentence);
  expect(sentences[3]).toMatch(/camera’s own lens .* Photograph an evenly lit surface/);
});
