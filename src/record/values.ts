/** Values of which all records are made. Every `u` is a standard uncertainty (GUM, k = 1) in the unit of its value. */
import { z } from 'zod';
import { EYES } from '../kernel/eye.ts';

/** Lists are read-only: a record is never edited after it was made. */
export const list = <T extends z.ZodType>(item: T) => z.array(item).readonly();

export const uncertainty = z.number().nonnegative();
export const measured = z.object({ value: z.number(), u: uncertainty });
export const luminance = z.object({ cd_m2: measured, fL: measured });
/** x, y. */
export const pair = z.tuple([z.number(), z.number()]).readonly();
/** Numbers and names behind a code, with their unit in the key. */
export const facts = z.record(z.string(), z.union([z.number(), z.string()])).readonly();
export const eye = z.enum(EYES);
/** Of a value against a limit. */
const VERDICTS = ['within', 'outside', 'undecided'] as const;
export const verdict = z.enum(VERDICTS);
export type Verdict = z.infer<typeof verdict>;
/** Of a whole reading: `geometry-within` where everything measured is within and nobody has looked at the eyes. */
export const OVERALL_VERDICTS = [...VERDICTS, 'geometry-within'] as const;
export const overallVerdict = z.enum(OVERALL_VERDICTS);
export type OverallVerdict = z.infer<typeof overallVerdict>;
export const software = z.object({ name: z.literal('twinplumb'), version: z.string().min(1) });

/** Photographs and records are named by the SHA-256 of their content, in small hexadecimal digits. */
export const SHA256_PATTERN = /^[0-9a-f]{64}$/;
export const sha256 = z.string().regex(SHA256_PATTERN);
