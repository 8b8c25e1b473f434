/** A folder that is watched for new photographs, and what became of the last one. */
import { z } from 'zod';
import { shotSlot } from '../record/roles.ts';

export const folderWatch = z.object({
  folder: z.string(),
  /** False while the folder cannot be found. */
  is_there: z.boolean(),
  last: z
    .object({
      /** Grows with every file, so that each is heard once. */
      number: z.int().positive(),
      name: z.string(),
      /** `taken`: in its place and usable. `duplicate`: it was taken before. `not-ours`: no photograph of the target. */
      outcome: z.enum(['looking', 'taken', 'refused', 'duplicate', 'not-ours']),
      slot: shotSlot.nullable(),
      /** What is said of it; null where the outcome says all. */
      message: z.string().nullable(),
    })
    .nullable(),
});
export type FolderWatchState = z.infer<typeof folderWatch>;

/** What a folder holds, for choosing one: names of folders only. */
export const folderList = z.object({
  folder: z.string(),
  /** Null at the top. */
  parent: z.string().nullable(),
  folders: z.array(z.string()),
});
export type FolderList = z.infer<typeof folderList>;
