import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it } from 'vitest';
import { TermFigure } from '../../src/drawings/terms-table.tsx';
import { Remainder, UncertaintyBudget } from '../../src/drawings/uncertainty-budget.tsx';
import type { FigureBudget, MeasuredReading } from '../../src/record/reading.ts';
import { sampleReading } from '../report/sample-reading.ts';

const budget: FigureBudget = {
  figure: 'rotation_deg',
  lines: [
    {
      source: 'film-turn',
      basis: 'assumption',
      type: 'B',
      u: 0.004,
      share_pct: 80,
      degrees_of_freedom: null,
      constant: false,
    },
    {
      source: 'marks',
      basis: 'residuals',
      type: 'A',
      u: 0.002,
      share_pct: 20,
      degrees_of_freedom: 85,
      constant: false,
    },
  ],
  u: 0.00447,
  u_repeat: 0.00447,
  degrees_of_freedom: 2125.4,
  expanded_95: 0.00877,
};
const text = (markup: string) =>
  markup
    .replace(/<[^>]+>/g, ' ')

    .replace(/\s+/g, ' ');
const withRemainder = (value: number, u: number): MeasuredReading => ({
  ...sampleReading,
  misalignment: { ...sampleReading.misalignment, remainder_pct: { value, u, at: [0, 0] } },
});

it('shows each source with type, basis, share and degrees of freedom, in the order of the record', () => {
  const markup = renderToStaticMarkup(createElement(UncertaintyBudget, { budget }));
  const words = text(markup);
  expect(words).toContain('Rotation, °');
  expect(words).toMatch(
    /Film rotation in the gate assumption B 0\.0040? 80 % ∞ Marks and pixels residuals of the marks A 0\.0020? 20 % 85/,
  );
  expect(words).toMatch(/Combined, u 0\.0045 ∞ /);
  expect(words).toMatch(/Expanded, 95 % 0\.0088/);
  expect(words).toMatch(/What would shrink it most: Take one photograph without glasses/);
  expect(
    [...markup.matchAll(/<rect width="([\d.]+)" height="8" fill="var\(--ink\)"/g)].map(([, w]) => Number(w)),
  ).toEqual([80, 20]);
});

it('says a clear remainder everywhere and a faint one only where it is asked for', () => {
  const draw = (reading: MeasuredReading, isFaintHidden: boolean) =>
    renderToStaticMarkup(createElement(Remainder, { reading, isFaintHidden }));
  expect(text(draw(withRemainder(0.05, 0.01), true))).toMatch(/0\.050 ± 0\.020 %.*It is not adjustable/);
  expect(draw(withRemainder(0.01, 0.01), true)).toBe('');
  expect(text(draw(withRemainder(0.01, 0.01), false))).toMatch(/at most 0\.030 %/);
  expect(draw(sampleReading, false)).toBe('');
});

it('sets the repeatable part beside twice the combined uncertainty, which alone decides the places', () => {
  const draw = (value: number, u_repeat?: number) =>
    text(
      renderToStaticMarkup(
        createElement(TermFigure, { field: 'worst_vertical_pct', value, u: 0.056, u_repeat, unit: '%' }),
      ),
    );
  expect(draw(0.54999, 0.000132)).toMatch(/0\.55\s%\s+± 0\.11\s+± 0\.00026 repeatable/);
  expect(draw(0.54999)).not.toContain('repeatable');
  expect(draw(0.02)).toMatch(/0\.02\s%\s+at most 0\.13/);
});
