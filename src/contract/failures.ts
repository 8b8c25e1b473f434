/** Failures cross every boundary as data: a code for programs, one sentence and one remedy for people. */
import { z } from 'zod';

export const failure = z.object({
  code: z.string(),
  message: z.string().min(1),
  remedy: z.string().min(1),
});
export type Failure = z.infer<typeof failure>;

/** What every procedure answers. */
export const outcomeOf = <T extends z.ZodType>(value: T) =>
  z.discriminatedUnion('ok', [z.object({ ok: z.literal(true), value }), z.object({ ok: z.literal(false), failure })]);
export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly failure: Failure };
