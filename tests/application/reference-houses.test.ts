/**
 * Photographs of houses that bend and move, rendered by tests/reference/render_house.py ray by ray, with the truth that it
 * computed by the definition: neither shares code with the program.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { measurePhotographs } from '../../src/application/measure-photographs.ts';
import type { UnwordedMeasured } from '../../src/record/reading.ts';
import type { PhotographRole } from '../../src/record/roles.ts';
import { TERM_FIELDS } from '../../src/record/term-fields.ts';
import { meridian } from '../limits/reading-of.ts';

type Field = (typeof TERM_FIELDS)[number] | 'worst_vertical_pct' | 'remainder_pct';
interface RenderedHouse {
  readonly misalignment: Readonly<Record<Field, number>>;
  readonly recipe: {
    readonly photographs: readonly string[];
    readonly film_mm: number;
    readonly radius: number | null;
  };
}

const pathOf = (name: string) => fileURLToPath(new URL(`../reference/golden/houses/${name}`, import.meta.url));
const HOUSES = JSON.parse(readFileSync(pathOf('truths.json'), 'utf8')) as Record<string, RenderedHouse>;
const ROLES: Readonly<Record<string, PhotographRole>> = { bare: 'bare', left: 'left-lens', right: 'right-lens' };

interface Sight {
  readonly house: string;
  readonly from: 'bare' | 'pair';
  readonly names: readonly string[];
}

/** Bare photographs and pairs are looked at apart, as if there were nothing else. */
const SIGHTS = Object.entries(HOUSES).flatMap(([house, { recipe }]): Sight[] => {
  const bare = recipe.photographs.filter((name) => name === 'bare');
  const pair = recipe.photographs.filter((name) => name !== 'bare');
  const sights: Sight[] = [
    { house, from: 'bare', names: bare },
    { house, from: 'pair', names: pair },
  ];
  return sights.filter(({ names }) => names.length > 0);
});

async function measure({ house, names }: Sight): Promise<UnwordedMeasured> {
  const facts = meridian();
  const reading = await measurePhotographs({
    photographs: names.map((name) => ({ role: ROLES[name]!, path: pathOf(`${house}/${name}.jpg`) })),
    house: { ...facts, film: { ...facts.film, motion_um: 1000 * HOUSES[house]!.recipe.film_mm } },
    softwareVersion: '0',
  });
  if (reading.outcome === 'refused') throw new Error(reading.refusal.code);
  return reading;
}

const measured = new Map<Sight, Promise<UnwordedMeasured>>();
function readingOf(sight: Sight): Promise<UnwordedMeasured> {
  const known = measured.get(sight) ?? measure(sight);
  measured.set(sight, known);
  return known;
}

/** Everything but the print, which has no errors here. */
function uWithoutPrint(reading: UnwordedMeasured, field: Field): number {
  const { lines } = reading.budget!.find(({ figure }) => figure === field)!;
  return Math.hypot(...lines.filter(({ source }) => !source.startsWith('print')).map(({ u }) => u));
}

const FIGURES = [...TERM_FIELDS, 'worst_vertical_pct'] as const;

async function ratiosOf(sight: Sight): Promise<number[]> {
  const reading = await readingOf(sight);
  const truth = HOUSES[sight.house]!.misalignment;
  return FIGURES.map((field) => (reading.misalignment[field].value - truth[field]) / uWithoutPrint(reading, field));
}

describe.each(SIGHTS)('$house, $from', (sight) => {
  it('every figure is true within 3 of its standard uncertainty', async () => {
    (await ratiosOf(sight)).forEach((ratio, i) => {
      expect(Math.abs(ratio), FIGURES[i]).toBeLessThan(3);
    });
  });

  if (sight.from === 'pair') return;
  it('the uncertainty of a bare photograph is worth the name', async () => {
    const reading = await readingOf(sight);
    // 1 megapixel of picture: what marks, camera and bends leave open. A film that turns moves the pictures sideways.
    for (const field of FIGURES.filter((each) => each !== 'horizontal_offset_pct')) {
      expect(uWithoutPrint(reading, field), field).toBeLessThan(0.006);
    }
    expect(reading.marks).toMatchObject({ left: 48, right: 47 });
  });
});

it('over all of them the intervals of 95 % hold what they promise', async () => {
  const ratios = (await Promise.all(SIGHTS.map(ratiosOf))).flat();
  const within = ratios.filter((ratio) => Math.abs(ratio) <= 2).length / ratios.length;
  expect(ratios.length).toBeGreaterThan(80);
  expect(within).toBeGreaterThan(0.88);
  expect(within).toBeLessThanOrEqual(1);
});

it('what bends the two pictures differently is seen, and nothing where nothing does', async () => {
  for (const sight of SIGHTS.filter(({ from }) => from === 'bare')) {
    const { value, u } = (await readingOf(sight)).misalignment.remainder_pct!;
    expect(Math.abs(value - HOUSES[sight.house]!.misalignment.remainder_pct) / u, sight.house).toBeLessThan(3);
  }
  const bent = SIGHTS.find(({ house }) => house === 'pincushion')!;
  const { value, u } = (await readingOf(bent)).misalignment.remainder_pct!;
  expect(value).toBeGreaterThan(10 * u);
});

it('a curved screen costs at most three times the error of a plane one', async () => {
  const largest = async (house: string) => {
    const sight = SIGHTS.find((each) => each.house === house && each.from === 'bare')!;
    const reading = await readingOf(sight);
    const uses = FIGURES.filter((field) => field !== 'horizontal_offset_pct' && field !== 'worst_vertical_pct');
    return Math.hypot(...uses.map((field) => reading.misalignment[field].value - HOUSES[house]!.misalignment[field]));
  };
  const plane = await largest('moving-film');
  for (const [house, { recipe }] of Object.entries(HOUSES)) {
    if (recipe.radius !== null && recipe.film_mm === 0) expect(await largest(house), house).toBeLessThan(3 * plane);
  }
});
