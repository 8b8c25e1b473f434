import { describe, expect, it } from 'vitest';
import { readScreen } from '../../../../../src/shells/interface/frame/screens.ts';
import {
  addressOfPlace,
  type LogbookPlace,
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
