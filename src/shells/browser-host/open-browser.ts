/** Opens an address in the system's browser, where there is a screen to show it on. */
import { spawn } from 'node:child_process';

export interface Environment {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
}

export function hasScreen({ platform, env }: Environment = process): boolean {
  if (platform === 'win32' || platform === 'darwin') return true;
  return Boolean(env.DISPLAY || env.WAYLAND_DISPLAY);
}

export function browserCommand(address: string, platform: NodeJS.Platform): readonly [string, ...string[]] {
  if (platform === 'darwin') return ['open', address];
  // Not `start`, which a shell would have to read: an address holds characters that mean something to it.
  if (platform === 'win32') return ['rundll32', 'url.dll,FileProtocolHandler', address];
  return ['xdg-open', address];
}

/** Quiet where it cannot be done: the address has been printed anyway. */
export function openBrowser(address: string, platform: NodeJS.Platform = process.platform): void {
  const [command, ...words] = browserCommand(address, platform);
  const child = spawn(command, words, { stdio: 'ignore', detached: true });
  child.on('error', () => undefined);
  child.unref();
}
