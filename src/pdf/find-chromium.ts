/**
 * The browser that puts reports onto pages: the one that TWINPLUMB_BROWSER names, else one of Chromium's kind that is
 * installed where each system has such programs. Nothing is fetched.
 */
import { stat } from 'node:fs/promises';
import { delimiter, join } from 'node:path';

export interface Surroundings {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
}

/** As the programs are called on the path of commands. */
const COMMANDS = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'microsoft-edge'];

const ON_MAC = ['Chromium', 'Google Chrome', 'Microsoft Edge'].map(
  (name) => `/Applications/${name}.app/Contents/MacOS/${name}`,
);

const ON_WINDOWS = [
  'Chromium\\Application\\chrome.exe',
  'Google\\Chrome\\Application\\chrome.exe',
  'Microsoft\\Edge\\Application\\msedge.exe',
];

/** `undefined` where there is none, or the one that was named does not exist. */
export async function findChromium({ platform, env }: Surroundings = process): Promise<string | undefined> {
  if (env.TWINPLUMB_BROWSER) return (await isFile(env.TWINPLUMB_BROWSER)) ? env.TWINPLUMB_BROWSER : undefined;
  for (const place of listPlaces(platform, env)) if (await isFile(place)) return place;
  return undefined;
}

function listPlaces(platform: NodeJS.Platform, env: Surroundings['env']): string[] {
  if (platform === 'win32') {
    const roots = [env.PROGRAMFILES, env['PROGRAMFILES(X86)'], env.LOCALAPPDATA].filter((root) => root !== undefined);
    return roots.flatMap((root) => ON_WINDOWS.map((place) => `${root}\\${place}`));
  }
  const onPath = (env.PATH ?? '').split(delimiter).filter(Boolean);
  const named = COMMANDS.flatMap((name) => onPath.map((folder) => join(folder, name)));
  return platform === 'darwin' ? [...ON_MAC, ...named] : named;
}

async function isFile(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isFile(),
    () => false,
  );
}
