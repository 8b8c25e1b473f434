import { describe, expect, it } from 'vitest';
import { logbookQuery } from '../../../../../src/contract/logbook.ts';
import type { Round } from '../../../../../src/contract/workspace.ts';
import { readScreen } from '../../../../../src/shells/interface/frame/screens.ts';
import {
  addressOfPlace,
  asQuery,
  EMPTY_QUERY,
  isAsking,
  type LogbookPlace,
  listOffers,
  readPlace,
} from '../../../../../src/shells/interface/screens/logbook/logbook-place.ts';

const [before, after] = ['ab'.repeat(32), 'cd'.repeat(32)] as const;

describe('places of the logbook', () => {
  it.each<LogbookPlace>([
    { view: 'entries' },
    { view: 'trends' },
    { view: 'care' },
    { view: 'entry', id: before },
    { view: 'pair', before, after },
  ])('stand in the address: $view', (place) => {
    const address = addressOfPlace(place);
    expect(readPlace(address)).toEqual(place);
    expect(readScreen(address)).toBe('logbook');
  });

  it.each(['', '#/logbook/entry', '#/logbook/entry/../../x', `#/logbook/pair/${before}`, '#/logbook/nowhere'])(
    'are the list where the address names none: %s',
    (address) => expect(readPlace(address)).toEqual({ view: 'entries' }),
  );
});

it('asks for nothing where nothing is written', () => {
  expect(asQuery(EMPTY_QUERY)).toEqual({});
  expect(isAsking(EMPTY_QUERY)).toBe(false);
});

it('asks for what is written, in the form of the contract', () => {
  const form = {
    ...EMPTY_QUERY,
    text: `  hum ${'x'.repeat(999)}`,
    house: 'The Meridian',
    from: '2026-03-14',
    to: '14.3.',
    verdict: 'within',
    withReplaced: true,
  } as const;
  const query = asQuery(form);
  expect(logbookQuery.parse(query)).toEqual(query);
  expect(query).toMatchObject({ house: 'The Meridian', from: '2026-03-14', verdict: 'within', with_replaced: true });
  expect(query.text).toMatch(/^hum x+$/);
  expect(query.to).toBeUndefined();
});

const round = (number: number, kept_as: string | null = null) => ({ number, kept_as }) as Round;

it('offers what is not kept, the newest first, each after the last kept round before it', () => {
  expect(listOffers([])).toEqual([]);
  const offers = listOffers([round(1), round(2, 'b'), round(3), round(4, 'd'), round(5)]);
  expect(offers.map(({ round: { number }, follows }) => [number, follows])).toEqual([
    [5, 'd'],
    [3, 'b'],
    [1, null],
  ]);
});
