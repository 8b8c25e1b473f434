import { describe, expect, it } from 'vitest';
import { CookieAuth } from '../../../src/shells/browser-host/cookie-auth.ts';

describe('the auth', () => {
  it('lets in once for each token, and always with what it gave', () => {
    const auth = new CookieAuth(4999);
    expect(auth.redeem('')).toBeUndefined();
    const token = auth.issueToken();
    expect(auth.redeem(`${token}x`)).toBeUndefined();
    expect(auth.redeem(null)).toBeUndefined();
    const cookie = auth.redeem(token)!;
    expect(cookie).toMatch(/^twinplumb-4999=[\w-]{43}; HttpOnly; SameSite=Strict; Path=\/$/);
    expect(auth.redeem(token)).toBeUndefined();
    const pass = cookie.split(';')[0]!;
    expect(auth.isAdmitted(pass)).toBe(true);
    expect(auth.isAdmitted(`other=1;  ${pass}; x=y`)).toBe(true);
    expect(auth.redeem(auth.issueToken())).toBe(cookie);
  });

  it('forgets a token that was not used when it issues another', () => {
    const auth = new CookieAuth(1);
    const first = auth.issueToken();
    const second = auth.issueToken();
    expect(second).not.toBe(first);
    expect(auth.redeem(first)).toBeUndefined();
    expect(auth.redeem(second)).toBeDefined();
  });

  it('lets nobody in with another cookie', () => {
    const auth = new CookieAuth(1);
    const pass = auth.redeem(auth.issueToken())!.split(';')[0]!;
    const others = [null, '', 'twinplumb-1', 'twinplumb-1=', `${pass}x`, pass.slice(0, -1), `x${pass}`, `"${pass}"`];
    for (const cookies of others) expect(auth.isAdmitted(cookies)).toBe(false);
    expect(new CookieAuth(1).isAdmitted(pass)).toBe(false);
  });
});
