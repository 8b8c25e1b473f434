import { describe, expect, it } from 'vitest';
import { browserCommand, hasScreen } from '../../../src/shells/browser-host/open-browser.ts';

describe('opening the system’s browser', () => {
  it.each([
    ['linux', {}, false],
    ['linux', { DISPLAY: ':0' }, true],
    ['linux', { WAYLAND_DISPLAY: 'wayland-0' }, true],
    ['linux', { DISPLAY: '' }, false],
    ['darwin', {}, true],
    ['win32', {}, true],
  ] as const)('on %s with %j: a screen is there: %s', (platform, env, expected) => {
    expect(hasScreen({ platform, env })).toBe(expected);
  });

  it('hands the address over as one word, and no shell reads it', () => {
    const address = 'http://127.0.0.1:4999/enter?token=a&b=$(x)';
    expect(browserCommand(address, 'linux')).toEqual(['xdg-open', address]);
    expect(browserCommand(address, 'darwin')).toEqual(['open', address]);
    expect(browserCommand(address, 'win32')).toEqual(['rundll32', 'url.dll,FileProtocolHandler', address]);
  });
});
