/**
 * Who is let in: a token, printed once and used once, brings a cookie that only this run of the program knows. Other
 * people on the same machine can reach the port, but know neither.
 */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

const SECRET_BYTES = 32;

export class CookieAuth {
  readonly #cookie: string;
  readonly #pass = makeSecret();
  #token: string | undefined;

  /** Cookies are shared by all ports of a machine: each host has a name of its own for its one. */
  constructor(port: number) {
    this.#cookie = `twinplumb-${port}`;
  }

  /** A token that was printed before and not used is worth nothing from now on. */
  issueToken(): string {
    this.#token = makeSecret();
    return this.#token;
  }

  /** The cookie to set; undefined where the token is wrong or has been used. */
  redeem(token: string | null): string | undefined {
    if (this.#token === undefined || token === null || !isSame(token, this.#token)) return undefined;
    this.#token = undefined;
    return `${this.#cookie}=${this.#pass}; HttpOnly; SameSite=Strict; Path=/`;
  }

  isAdmitted(cookies: string | null): boolean {
    const prefix = `${this.#cookie}=`;
    return (cookies ?? '')
      .split(';')
      .map((cookie) => cookie.trim())
      .some((cookie) => cookie.startsWith(prefix) && isSame(cookie.slice(prefix.length), this.#pass));
  }
}

function makeSecret(): string {
  return randomBytes(SECRET_BYTES).toString('base64url');
}

/** Takes the same time however much of the two agrees; hashed, because only equal lengths can be compared so. */
function isSame(given: string, secret: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(given), digest(secret));
}
