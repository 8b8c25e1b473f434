/** Answers, each with the whole policy. */
import type { Failure, Outcome } from '../../contract/failures.ts';
import { type FailureCode, translateFailure } from '../../wording/failures.ts';
import { POLICY_HEADERS } from './policy.ts';

/** What changes from one moment to the next is never kept by the browser. */
const UNKEPT = 'no-store';
/** Content that is named by its hash never changes. */
export const IMMUTABLE = 'private, max-age=31536000, immutable';

export function reply(
  body: ReadableStream<Uint8Array> | Uint8Array<ArrayBuffer> | string | null,
  type: string,
  { status = 200, ...headers }: { status?: number } & Record<string, string | number> = {},
): Response {
  const own = Object.fromEntries(Object.entries(headers).map(([name, value]) => [name, String(value)]));
  return new Response(body, {
    status,
    headers: { ...POLICY_HEADERS, 'cache-control': UNKEPT, 'content-type': type, ...own },
  });
}

/** A failure of the work itself is a proper answer: the page asked rightly, so the status is 200. */
export function replyOutcome(outcome: Outcome<unknown>): Response {
  return reply(JSON.stringify(outcome), 'application/json');
}

/** The request itself was wrong. */
export function refuseRequest(
  status: number,
  code: FailureCode,
  facts: Readonly<Record<string, number | string>> = {},
  headers: Readonly<Record<string, string>> = {},
): Response {
  return replyFailure(status, translateFailure(code, facts), headers);
}

export function replyFailure(
  status: number,
  failure: Failure,
  headers: Readonly<Record<string, string>> = {},
): Response {
  return reply(JSON.stringify({ ok: false, failure }), 'application/json', { status, ...headers });
}

const MIB = 2 ** 20;

/** What `readBody` would not read. */
export function refuseBody(why: 'too-large' | 'cut-short', limit: number): Response {
  if (why === 'cut-short') return refuseRequest(400, 'not-json');
  return refuseRequest(413, 'body-too-large', { limit_mib: Math.ceil(limit / MIB) });
}
