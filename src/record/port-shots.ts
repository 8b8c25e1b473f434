/**
 * Port shots as they are printed by `ports --json` and shown by the interface: which port of the attachment is dark to
 * which eye. Photo coordinates in px, y down; every `u` is a standard uncertainty (k = 1).
 */
import { z } from 'zod';
import { lensRole } from './roles.ts';
import { eye, facts, list, measured, software } from './values.ts';

export const PORT_SHOTS_SCHEMA = 'twinplumb.port-shots/1';

/** As seen from the house. */
const portPlace = z.enum(['upper', 'lower', 'left', 'right']);
export type PortPlaceName = z.infer<typeof portPlace>;

const port = z.object({
  place: portPlace,
  dark_to: z.enum(['left', 'right', 'neither', 'unclear']),
  /** Its light through the lens through which it is darker, over that through the other one. */
  kept_pct: measured,
  darker_through: eye,
  /** Of its polarizer against the lens that lets most through, where all of that light is a wrong angle; 45 is alike. */
  angle_deg: z.number(),
  x_px: z.number(),
  y_px: z.number(),
  radius_px: z.number().positive(),
});

/**
 *   as-expected     each port serves its own eye, the upper one the eye that it should
 *   exchanged       each serves its own eye, the other way round
 *   each-its-own    the same where the ports stand side by side, which no house file describes
 *   both-one-eye, one-neither, both-neither, unclear     as in the comparison
 */
export const portsVerdict = z.enum([
  'as-expected',
  'exchanged',
  'each-its-own',
  'both-one-eye',
  'one-neither',
  'both-neither',
  'unclear',
]);
export type PortsVerdictName = z.infer<typeof portsVerdict>;

const common = {
  schema: z.literal(PORT_SHOTS_SCHEMA),
  software,
  /** Through the left and the right lens of the glasses. */
  files: z.object({ left: z.string(), right: z.string() }),
};

const comparedPortShots = z.object({
  ...common,
  outcome: z.literal('compared'),
  sentence: z.string(),
  verdict: portsVerdict,
  /** The eye that the upper port should serve, and who says so; null for ports side by side. */
  expected: z.object({ upper_port_shows: eye, by: z.enum(['house', 'common-practice']) }).nullable(),
  ports: list(port),
  /** Of both photographs. */
  size: z.object({ width_px: z.int().positive(), height_px: z.int().positive() }),
  /** The answer to a check of the causes that this is; null where it is none. */
  answer: z.object({ check: z.string(), answer: z.string() }).nullable(),
  notes: list(z.object({ code: z.string(), message: z.string() })),
  cautions: list(z.string()),
});
export type ComparedPortShots = z.infer<typeof comparedPortShots>;

const refusedPortShots = z.object({
  ...common,
  outcome: z.literal('refused'),
  refusal: z.object({
    code: z.string(),
    message: z.string(),
    remedy: z.string(),
    shot: lensRole.nullable(),
    facts,
  }),
  cautions: list(z.string()),
});
type RefusedPortShots = z.infer<typeof refusedPortShots>;

export const portShots = z.discriminatedUnion('outcome', [comparedPortShots, refusedPortShots]);
export type PortShotsRecord = z.infer<typeof portShots>;

/** Codes and numbers only. */
export type UnwordedPortShots =
  | (Omit<ComparedPortShots, 'sentence' | 'cautions' | 'notes'> & { readonly notes: readonly string[] })
  | (Omit<RefusedPortShots, 'refusal' | 'cautions'> & {
      readonly refusal: Pick<RefusedPortShots['refusal'], 'code' | 'shot' | 'facts'>;
    });
