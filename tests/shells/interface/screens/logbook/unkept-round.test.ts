import { expect, it } from 'vitest';
import type { Round } from '../../../../../src/contract/workspace.ts';
import { listOffers } from '../../../../../src/shells/interface/screens/logbook/unkept-round.ts';

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
