/** What a shell hears without asking, one JSON object per line. */
import { z } from 'zod';
import { workspace } from './workspace.ts';

export const event = z.discriminatedUnion('type', [
  /** The whole work after a change; sent at once to whoever begins to listen. */
  z.object({ type: z.literal('workspace'), workspace }),
  /** The engine stopped and is being started again. */
  z.object({ type: z.literal('engine'), state: z.enum(['starting', 'ready', 'stopped']) }),
]);
export type Event = z.infer<typeof event>;
