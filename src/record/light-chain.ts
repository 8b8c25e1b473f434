/**
 * The light chain, `twinplumb.light-chain/1`: what a light budget is reckoned from. A start (one reading of the screen
 * without film) and the steps between it and the eye, each a factor with its standard uncertainty and where it comes from.
 *
 * Unknown fields are refused, because a misspelt one would otherwise be left out silently. Every field is explained in
 * src/manual/light.md.
 */
import { z } from 'zod';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { describeProblems, factsOfProblems } from './describe-problems.ts';
import { EFFORTS, FACTOR_BASES, STEP_CODES } from './light-codes.ts';

export const LIGHT_CHAIN_SCHEMA = 'twinplumb.light-chain/1';

const reading = (max: number) =>
  z.strictObject({ value: z.number().min(0.01).max(max), u: z.number().min(0).max(max) });
/** A gain of the screen may be far above 1; nothing here may be nothing. */
const factor = z.number().min(0.001).max(100);
const text = z.string().min(1).max(300);

const start = z
  .strictObject({
    luminance_cd_m2: reading(10_000).optional(),
    luminance_fL: reading(3_000).optional(),
    /** On the screen; taken as a matt white one of gain 1, so that the screen's own gain is a step. */
    illuminance_lx: reading(40_000).optional(),
    /** What was read, where and how. */
    source: text.optional(),
  })
  .superRefine((given, context) => {
    const readings = [given.luminance_cd_m2, given.luminance_fL, given.illuminance_lx].filter(Boolean);
    if (readings.length !== 1) context.addIssue({ code: 'custom', message: 'one-start-needed' });
  });

const chainStep = z
  .strictObject({
    code: z.enum(STEP_CODES),
    /** Needed for `other`. */
    label: z.string().min(1).max(80).optional(),
    factor: z.strictObject({ value: factor, u: z.number().min(0).max(100) }),
    source: text,
    basis: z.enum(FACTOR_BASES),
    improvement: z.strictObject({ factor, effort: z.enum(EFFORTS), assumption: text }).optional(),
  })
  .superRefine(({ code, label }, context) => {
    if (code === 'other' && label === undefined) {
      context.addIssue({ code: 'custom', message: 'label-needed', path: ['label'] });
    }
  });
export type ChainStep = z.infer<typeof chainStep>;

export const lightChain = z.strictObject({
  schema: z.literal(LIGHT_CHAIN_SCHEMA),
  start,
  steps: z.array(chainStep).min(1).max(20),
});
export type LightChain = z.infer<typeof lightChain>;

export type ChainReading = { readonly outcome: 'read'; readonly chain: LightChain } | Refusal<'invalid-light-chain'>;

/**
 * Reads a parsed file. Refused with `reason` `newer-version` (with `schema` and `supported`), `not-a-light-chain`, or
 * `problems`, numbered as in a House file.
 */
export function readLightChain(json: unknown): ChainReading {
  const given = typeof json === 'object' && json !== null && 'schema' in json ? json.schema : undefined;
  const version = typeof given === 'string' ? /^twinplumb\.light-chain\/(\d+)$/.exec(given)?.[1] : undefined;
  const supported = LIGHT_CHAIN_SCHEMA;
  if (version === undefined) return refuse('invalid-light-chain', { reason: 'not-a-light-chain', supported });
  if (given !== LIGHT_CHAIN_SCHEMA) {
    const reason = Number(version) > 1 ? 'newer-version' : 'not-a-light-chain';
    return refuse('invalid-light-chain', { reason, schema: String(given), supported });
  }
  const parsed = lightChain.safeParse(json, { reportInput: true });
  if (parsed.success) return { outcome: 'read', chain: parsed.data };
  return refuse('invalid-light-chain', factsOfProblems(describeProblems(parsed.error)));
}
