/** `npm start` after its build: the browser host where the desktop cannot be opened, and one line that says so. */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';

const START = fileURLToPath(new URL('../../build/start.mjs', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'start-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Until the address is printed; then it is ended as Ctrl-C at a terminal ends it, which reaches all of the group. */
function start(env: Record<string, string>): Promise<{ status: number | null; remarks: string; address: string }> {
  const { DISPLAY: _d, WAYLAND_DISPLAY: _w, ...rest } = process.env;
  const child = spawn(process.execPath, [START, '--no-open', '--folder', folder], {
    stdio: 'pipe',
    detached: true,
    env: { ...rest, ...env },
  });
  let printed = '';
  let remarks = '';
  child.stderr.on('data', (text) => {
    remarks += text;
  });
  child.stdout.on('data', (text) => {
    printed += text;
    if (/token=\S+\n/.test(printed)) process.kill(-child.pid!, 'SIGINT');
  });
  return new Promise((resolve) => {
    child.on('close', (status) => resolve({ status, remarks, address: /http:\S+/.exec(printed)?.[0] ?? '' }));
  });
}

describe.runIf(process.platform === 'linux')('npm start', () => {
  it.each([
    ['without a screen', {}, 'there is no screen for a window'],
    [
      'without the runtime, and nowhere to fetch it from in time',
      { DISPLAY: ':99', ELECTRON_OVERRIDE_DIST_PATH: join(folder, 'nothing'), TWINPLUMB_LONGEST_FETCH_MS: '1' },
      'its runtime is not on this machine and cannot be fetched',
    ],
  ])('%s opens the browser host and says so in one line', async (_how, env, reason) => {
    const { status, remarks, address } = await start(env);
    const [line, ...others] = remarks.trim().split('\n');
    expect(line).toBe(`The desktop cannot be opened (${reason}); Twinplumb opens in the browser instead.`);
    expect(others).toEqual([`Twinplumb has ended; the work is kept in ${folder}`]);
    expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/enter\?token=[\w-]{43}$/);
    expect(status).toBe(0);
  });
});
