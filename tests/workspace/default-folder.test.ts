import { describe, expect, it } from 'vitest';
import { findDefaultFolder } from '../../src/workspace/default-folder.ts';

describe('where the work is kept', () => {
  it.each([
    ['linux', { XDG_STATE_HOME: '/state' }, '/state/twinplumb'],
    ['linux', {}, '/ann/.local/state/twinplumb'],
    ['linux', { XDG_STATE_HOME: '/state', TWINPLUMB_FOLDER: '/stick/work' }, '/stick/work'],
    ['linux', { XDG_STATE_HOME: '' }, '/ann/.local/state/twinplumb'],
    ['darwin', { XDG_STATE_HOME: '/state' }, '/ann/Library/Application Support/Twinplumb/Work'],
    ['win32', { LOCALAPPDATA: '/local' }, '/local/Twinplumb'],
    ['win32', {}, '/ann/AppData/Local/Twinplumb'],
  ] as const)('on %s with %j is %s', (platform, env, folder) => {
    expect(findDefaultFolder({ platform, env, home: '/ann' })).toBe(folder);
  });
});
