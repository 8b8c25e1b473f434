/**
 * Where the work is kept when nobody names a folder: where each system wants the state of programs to be. Desktop and
 * browser host share it, one at a time. TWINPLUMB_FOLDER names another.
 */
import { homedir } from 'node:os';
import { join } from 'node:path';

export interface Environment {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly home: string;
}

const HERE = (): Environment => ({ platform: process.platform, env: process.env, home: homedir() });

export function findDefaultFolder({ platform, env, home }: Environment = HERE()): string {
  if (env.TWINPLUMB_FOLDER) return env.TWINPLUMB_FOLDER;
  if (platform === 'win32') return join(env.LOCALAPPDATA || join(home, 'AppData', 'Local'), 'Twinplumb');
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'Twinplumb', 'Work');
  return join(env.XDG_STATE_HOME || join(home, '.local', 'state'), 'twinplumb');
}
