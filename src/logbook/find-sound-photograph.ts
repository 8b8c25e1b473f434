/** A photograph of the logbook as it was kept, to the last bit; anything else under its name is as good as missing. */
import { refuse } from '../kernel/refusal.ts';
import type { KeptPhotograph } from '../record/entry.ts';
import { hashFile } from './hash.ts';
import type { Logbook, LogbookRefusal } from './logbook.ts';

export type SoundPhotograph = { readonly outcome: 'sound'; readonly path: string } | LogbookRefusal;

/** `id`: the entry that names it. */
export async function findSoundPhotograph(
  logbook: Pick<Logbook, 'findPhotograph'>,
  { sha256, name }: Pick<KeptPhotograph, 'sha256' | 'name'>,
  id?: string,
): Promise<SoundPhotograph> {
  const path = await logbook.findPhotograph(sha256);
  const isSound = path !== undefined && (await hashFile(path).catch(() => undefined)) === sha256;
  return isSound ? { outcome: 'sound', path } : refuse('photograph-gone', { ...(id && { id }), file: name, sha256 });
}
