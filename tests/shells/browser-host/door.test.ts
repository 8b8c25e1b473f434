import { describe, expect, it } from 'vitest';
import { Door } from '../../../src/shells/browser-host/door.ts';

describe('the door', () => {
  it('lets in once for each token, and always with what it gave', () => {
    const door = new Door(4999);
    expect(door.admit('')).toBeUndefined();
    const token = door.issueToken();
    expect(door.admit(`${token}x`)).toBeUndefined();
    expect(door.admit(null)).toBeUndefined();
    const cookie = door.admit(token)!;
    expect(cookie).toMatch(/^twinplumb-4999=[\w-]{43}; HttpOnly; SameSite=Strict; Path=\/$/);
    expect(door.admit(token)).toBeUndefined();
    const pass = cookie.split(';')[0]!;
    expect(door.isAdmitted(pass)).toBe(true);
    expect(door.isAdmitted(`other=1;  ${pass}; x=y`)).toBe(true);
    expect(door.admit(door.issueToken())).toBe(cookie);
  });

  it('forgets a token that was not used when it issues another', () => {
    const door = new Door(1);
    const first = door.issueToken();
    const second = door.issueToken();
    expect(second).not.toBe(first);
    expect(door.admit(first)).toBeUndefined();
    expect(door.admit(second)).toBeDefined();
  });

  it('lets nobody in with another cookie', () => {
    const door = new Door(1);
    const pass = door.admit(door.issueToken())!.split(';')[0]!;
    const others = [null, '', 'twinplumb-1', 'twinplumb-1=', `${pass}x`, pass.slice(0, -1), `x${pass}`, `"${pass}"`];
    for (const cookies of others) expect(door.isAdmitted(cookies)).toBe(false);
    expect(new Door(1).isAdmitted(pass)).toBe(false);
  });
});
