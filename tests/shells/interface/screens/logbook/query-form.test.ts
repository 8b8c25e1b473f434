import { expect, it } from 'vitest';
import { logbookQuery } from '../../../../../src/contract/logbook.ts';
import { asQuery, EMPTY_QUERY, isAsking } from '../../../../../src/shells/interface/screens/logbook/query-form.ts';

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
