/** Where a logbook lies for which nobody names a folder: in sight of whoever it belongs to. */
import { homedir } from 'node:os';
import { join } from 'node:path';

export function usualLogbookFolder(home = homedir()): string {
  return join(home, 'Twinplumb', 'logbook');
}
