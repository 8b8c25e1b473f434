import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { HOUSE_SCHEMA, type House, readHouse } from '../../src/record/house.ts';

const meridianText = readFileSync(new URL('../../test-images/meridian.house.json', import.meta.url), 'utf8');

// biome-ignore lint/suspicious/noExplicitAny: the tests break the file on purpose
type Loose = any;

/** A fresh copy of the Meridian's file, changed by the test. */
function meridian(change: (json: Loose) => void = () => {}): unknown {
  const json = JSON.parse(meridianText);
  change(json);
  return json;
}

function read(json: unknown): House {
  const result = readHouse(json);
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result.facts));
  return result.house;
}

function factsOf(json: unknown) {
  const result = readHouse(json);
  if (result.outcome !== 'refused') throw new Error('the file was accepted');
  expect(result.code).toBe('invalid-house');
  return result.facts;
}

describe('the Meridian', () => {
  it('is a valid House: 412 seats, 10.4 m wide, 27 m throw', () => {
    const house = read(meridian());
    expect([house.seats.count, house.screen.picture_width_m, house.throw_m]).toEqual([412, 10.4, 27]);
    expect(house.attachment?.adjustments.map((a) => a.id)).toEqual([
      'upper-screw',
      'lower-screw',
      'roll-screw',
      'whole-attachment',
    ]);
  });

  it('has no adjustment that changes the size', () => {
    for (const a of read(meridian()).attachment!.adjustments) {
      expect(a.kind === 'stated' && a.effect_per_turn.size_pct !== undefined).toBe(false);
    }
  });
});

describe('defaults of the House file', () => {
  it('are those of the manual', () => {
    const house = read(
      meridian((json) => {
        delete json.screen.picture_aspect;
        delete json.film.picture_width_mm;
        json.attachment = {
          adjustments: [
            { kind: 'unknown', id: 'a', label: 'knob', moves: 'left', affects: 'vertical', range_turns: 2 },
            { kind: 'attachment-rotation', id: 'b', label: 'ring', range_deg: 4 },
            {
              kind: 'wedge-rotation',
              id: 'c',
              label: 'wedge',
              moves: 'left',
              clockwise_moves: 'up',
              wedge_deg: 1,
              range_deg: 20,
            },
          ],
        };
      }),
    );
    expect(house.screen.picture_aspect).toBe(2.35);
    expect(house.film.picture_width_mm).toBe(20.95);
    expect(house.tolerances).toEqual({});
    expect(house.attachment).toMatchObject({
      upper_port_shows: 'right',
      keep_in_place: 'pair-centre',
      adjustments: [
        { backlash_turns: 0, smallest_useful_turn: 0.0625 },
        { backlash_deg: 0, smallest_useful_deg: 0.1 },
        { refractive_index: 1.517 },
      ],
    });
  });

  it('an attachment need not be described', () => {
    expect(read(meridian((json) => delete json.attachment)).attachment).toBeUndefined();
  });
});

describe('a House file that cannot be accepted', () => {
  it('a misspelt field is named with its path', () => {
    const facts = factsOf(meridian((json) => (json.attachment.adjustments[1].leaver_mm = 3)));
    expect(facts).toMatchObject({
      reason: 'problems',
      count: 1,
      path_1: 'attachment.adjustments[1].leaver_mm',
      problem_1: 'unknown-field',
    });
  });

  it('several problems are listed together', () => {
    const facts = factsOf(
      meridian((json) => {
        delete json.throw_m;
        json.screen.picture_width_m = '10.4';
        json.film.centre_to_centre_in = 9.5;
        json.seats.rows = 20;
      }),
    );
    expect(facts.count).toBe(4);
    const listed = [1, 2, 3, 4].map((i) => [facts[`path_${i}`], facts[`problem_${i}`], facts[`expected_${i}`]]);
    expect(listed).toContainEqual(['throw_m', 'missing', 'number']);
    expect(listed).toContainEqual(['screen.picture_width_m', 'wrong-type', 'number']);
    expect(listed).toContainEqual(['film.centre_to_centre_in', 'too-large', 0.42]);
    expect(listed).toContainEqual(['seats.rows', 'unknown-field', undefined]);
  });

  it.each([
    [
      'an unknown kind',
      (j: Loose) => (j.attachment.adjustments[0].kind = 'lever'),
      'attachment.adjustments[0].kind',
      'not-allowed',
    ],
    [
      'a direction that is none',
      (j: Loose) => (j.attachment.adjustments[0].clockwise_moves = 'north'),
      'attachment.adjustments[0].clockwise_moves',
      'not-allowed',
    ],
    [
      'an identity used twice',
      (j: Loose) => (j.attachment.adjustments[1].id = 'upper-screw'),
      'attachment.adjustments[1].id',
      'id-used-twice',
    ],
    [
      'a position beyond the stop',
      (j: Loose) => (j.attachment.adjustments[0].position_turns = 5),
      'attachment.adjustments[0].position_turns',
      'position-outside-range',
    ],
    [
      'a smallest turn beyond the travel',
      (j: Loose) => (j.attachment.adjustments[3].smallest_useful_deg = 7),
      'attachment.adjustments[3].smallest_useful_deg',
      'smallest-turn-exceeds-range',
    ],
    [
      'a screw that does nothing',
      (j: Loose) => (j.attachment.adjustments[2].effect_per_turn = {}),
      'attachment.adjustments[2].effect_per_turn',
      'zero-effect',
    ],
    [
      'a reference seat before the first row',
      (j: Loose) => (j.seats.reference_seat_m = 3),
      'seats.reference_seat_m',
      'reference-seat-before-nearest-row',
    ],
    [
      'a limit without its source',
      (j: Loose) => (j.tolerances = { size: { limit_pct: 0.3 } }),
      'tolerances.size.source',
      'missing',
    ],
    ['a number that is none', (j: Loose) => (j.throw_m = Number.NaN), 'throw_m', 'wrong-type'],
  ])('%s', (_, change, path, problem) => {
    expect(factsOf(meridian(change))).toMatchObject({ count: 1, path_1: path, problem_1: problem });
  });

  it('a newer version is told apart from a broken file', () => {
    expect(factsOf(meridian((json) => (json.schema = 'twinplumb.house/2')))).toEqual({
      reason: 'newer-version',
      schema: 'twinplumb.house/2',
      supported: HOUSE_SCHEMA,
    });
  });

  it.each([[null], [[]], ['house'], [{}], [{ schema: 'other/1' }]])('%j is no House', (json) => {
    expect(factsOf(json)).toMatchObject({ reason: 'not-a-house' });
  });
});
