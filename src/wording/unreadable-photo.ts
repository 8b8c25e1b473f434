/** A photograph that cannot be read at all, by reason. */
import { type Facts, nameShot, type RefusalWords, type RefusedShot } from './facts.ts';

const REASONS: Readonly<Record<string, readonly [message: string, remedy: string]>> = {
  missing: ['does not exist', 'Check the path and the spelling of the file name.'],
  directory: ['is a folder, not a file', 'Give the photograph itself.'],
  'not-a-file': ['is no ordinary file', 'Give the photograph itself.'],
  'read-error': ['cannot be read from its drive', 'Check the drive or card, and copy the photograph to this machine.'],
  empty: ['is an empty file', 'Copy it from the camera again.'],
  'no-permission': ['may not be read by this user', 'Give this user the right to read the file.'],
  truncated: ['is cut short', 'Copy it from the camera again and wait until the copy has ended.'],
  damaged: ['is damaged', 'Copy it from the camera again, or photograph again.'],
};

export const UNREADABLE_REASONS: readonly string[] = Object.keys(REASONS);

export function translateUnreadablePhoto(facts: Facts, shot: RefusedShot): RefusalWords {
  const [predicate, remedy] = REASONS[String(facts.reason)] ?? REASONS.damaged!;
  const file = facts.file === undefined ? '' : ` (${facts.file})`;
  return { message: `${nameShot(shot)}${file} ${predicate}.`, remedy };
}
