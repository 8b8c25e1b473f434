/** Failures cross every boundary as data: a code for programs, one sentence and one remedy for people. */
import { z } from 'zod';

export const failure = z.object({
  code: z.string(),
  message: z.string().min(1),
  remedy: z.string().min(1),
});
export type Failure = z.infer<typeof failure>;

/** What every procedure answers. */
export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly failure: Failure };
