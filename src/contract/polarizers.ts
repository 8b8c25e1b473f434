/**
 * Polarizers: photographs laid out for a null search and of the attachment's ports, beside the measured pair, and what they
 * gave. A result stands until what it rests on is changed.
 */
import { z } from 'zod';
import { nullSearch, turnedThing } from '../record/null-search.ts';
import { portShots } from '../record/port-shots.ts';
import { eye, sha256 } from '../record/values.ts';

const laidOut = z.object({
  /** Of this photograph among all that were ever laid out here. */
  id: z.int().positive(),
  name: z.string(),
  sha256,
});
export type AddedPhotograph = z.infer<typeof laidOut>;

const turn = z.number().min(-360).max(360);
const seriesPhotograph = laidOut.extend({
  /** Null until somebody says, and where steps are counted. */
  turn_deg: turn.nullable(),
});
export type SeriesPhotograph = z.infer<typeof seriesPhotograph>;

const nullSetting = z.object({
  lens: eye,
  turned: turnedThing,
  /** Each photograph with its turn, or equal steps of unknown size. */
  counted: z.enum(['turns', 'steps']),
});
export type NullSetting = z.infer<typeof nullSetting>;

export const polarizers = z.object({
  setting: nullSetting,
  reference: laidOut.nullable(),
  /** In the order in which they were taken. */
  series: z.array(seriesPhotograph),
  null_search: nullSearch.nullable(),
  ports: z.object({ left: laidOut.nullable(), right: laidOut.nullable() }),
  port_shots: portShots.nullable(),
  /** Photographs that were laid out so far. */
  count: z.int().nonnegative(),
});
export type Polarizers = z.infer<typeof polarizers>;

export const EMPTY_POLARIZERS: Polarizers = {
  setting: { lens: 'left', turned: 'polarizer', counted: 'turns' },
  reference: null,
  series: [],
  null_search: null,
  ports: { left: null, right: null },
  port_shots: null,
  count: 0,
};

/** Most photographs of a series. */
export const MAX_IN_SERIES = 40;

const ofPhotograph = z.strictObject({ id: z.int().positive() });

export const polarizerRequests = {
  setting: z.strictObject(nullSetting.partial().shape),
  turn: ofPhotograph.extend({ turn_deg: turn.nullable() }),
  /** By so many places towards the end of the series. */
  move: ofPhotograph.extend({ by: z.union([z.literal(-1), z.literal(1)]) }),
  remove: ofPhotograph,
};
