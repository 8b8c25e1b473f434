/** A file that cannot be taken, in words. */
import { MOST_PHOTOGRAPH_BYTES } from '../../../../contract/addresses.ts';
import type { ShotSlot } from '../../../../contract/shots.ts';
import { translate } from '../../../../wording/translate.ts';
import type { FileProblemCode } from './check-file.ts';

export interface IntakeProblem {
  /** Where the file was meant to go; null where nobody had said. */
  readonly slot: ShotSlot | null;
  readonly message: string;
  readonly remedy: string;
}

export function formatFileProblem(code: FileProblemCode, name: string, slot: ShotSlot | null): IntakeProblem {
  return {
    slot,
    message: translate(`shots.file-${code}`, { name, most: MOST_PHOTOGRAPH_BYTES / 2 ** 20 }),
    remedy: translate(`shots.file-${code}-remedy`),
  };
}
