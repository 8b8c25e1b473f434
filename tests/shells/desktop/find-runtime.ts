/** The desktop's runtime on this machine, or why there is none. Nothing is fetched: asking the package itself would. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT } from './start-built-desktop.ts';

export function findRuntime(): { readonly path: string } | { readonly missing: string } {
  const own = join(ROOT, 'node_modules', 'electron');
  const note = join(own, 'path.txt');
  const folder = process.env.ELECTRON_OVERRIDE_DIST_PATH ?? join(own, 'dist');
  const path = join(folder, existsSync(note) ? readFileSync(note, 'utf8') : 'electron');
  if (process.platform === 'linux' && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) {
    if (existsSync(path))
      return { missing: 'there is no screen to open a window on (neither DISPLAY nor WAYLAND_DISPLAY)' };
  }
  return existsSync(path) ? { path } : { missing: `the runtime is not on this machine (${path} does not exist)` };
}
