/** The addresses of the logbook: photographs and bundles in, photographs, bundles, reports and tables out. */
import {
  ENTRY_FILES,
  MAX_BUNDLE_BYTES,
  MAX_PHOTOGRAPH_BYTES,
  PAIR_FILES,
  TRENDS_FILES,
} from '../../contract/addresses.ts';
import type { Outcome } from '../../contract/failures.ts';
import { type LogbookQuery, logbookQuery } from '../../contract/logbook.ts';
import type { ExportedFile, LogbookPort } from '../../workspace/work.ts';
import { REPORT_POLICY } from './policy.ts';
import { readBody, readPaper, viewWidth, wholeNumber } from './read-request.ts';
import { IMMUTABLE, reply, replyFailure, replyOutcome, refuseBody, refuseRequest } from './reply.ts';
import { SHA256_PATTERN } from '../../record/values.ts';

const nowhere = () => refuseRequest(404, 'not-found');

export async function answerLogbook(
  shelf: LogbookPort,
  request: Request,
  url: URL,
  parts: readonly string[],
): Promise<Response> {
  const [what, ...rest] = parts;
  const isSending = request.method === 'POST';
  if (isSending && rest.length === 0 && what === 'photographs') {
    const bytes = await readBody(request, MAX_PHOTOGRAPH_BYTES);
    if (typeof bytes === 'string') return refuseBody(bytes, MAX_PHOTOGRAPH_BYTES);
    return replyOutcome(await shelf.addPhotograph(nameIn(url), bytes));
  }
  if (isSending && rest.length === 0 && what === 'bundles') {
    const bytes = await readBody(request, MAX_BUNDLE_BYTES);
    if (typeof bytes === 'string') return refuseBody(bytes, MAX_BUNDLE_BYTES);
    return replyOutcome(await shelf.importBundle(nameIn(url), bytes));
  }
  if (request.method !== 'GET') return refuseRequest(405, 'wrong-method', {}, { allow: 'GET' });
  return answerReading(shelf, url, what, rest);
}

async function answerReading(
  shelf: LogbookPort,
  url: URL,
  what: string | undefined,
  rest: readonly string[],
): Promise<Response> {
  const [first = '', second = '', third = ''] = rest;
  const on = readPaper(url);
  if (on === undefined) return refuseRequest(400, 'invalid-input');
  switch (`${what} ${rest.length}`) {
    case 'photographs 1': {
      const width = viewWidth(url);
      if (width === 'wrong') return refuseRequest(400, 'invalid-input');
      const outcome = await shelf.viewPhotograph(first, width);
      if (!outcome.ok) return replyFailure(404, outcome.failure);
      return reply(new Uint8Array(outcome.value.bytes), outcome.value.type, { 'cache-control': IMMUTABLE });
    }
    case 'bundles 1': {
      const job = wholeNumber(first);
      return job === undefined ? nowhere() : send(await shelf.bundle(job));
    }
    case 'entries 2': {
      const file = ENTRY_FILES.find((name) => name === second);
      return file && SHA256_PATTERN.test(first) ? send(await shelf.entryFile(first, file, on)) : nowhere();
    }
    case 'pairs 3': {
      const file = PAIR_FILES.find((name) => name === third);
      return file && SHA256_PATTERN.test(first) && SHA256_PATTERN.test(second)
        ? send(await shelf.pairFile(first, second, file, on))
        : nowhere();
    }
    case 'list 1': {
      const query = readQuery(url);
      if (first !== 'entries.csv') return nowhere();
      return query ? send(await shelf.listFile(query)) : refuseRequest(400, 'invalid-input');
    }
    case 'trends 1': {
      const query = readQuery(url);
      const file = TRENDS_FILES.find((name) => name === first);
      if (!file) return nowhere();
      return query ? send(await shelf.trendsFile(query, file, on)) : refuseRequest(400, 'invalid-input');
    }
    default:
      return nowhere();
  }
}

function sendFile({ name, type, body }: ExportedFile): Response {
  const policy = type.startsWith('text/html') ? { 'content-security-policy': REPORT_POLICY } : {};
  return reply(typeof body === 'string' ? body : new Uint8Array(body), type, {
    'content-disposition': `attachment; filename="${name}"`,
    ...policy,
  });
}

function send(outcome: Outcome<ExportedFile>): Response {
  return outcome.ok ? sendFile(outcome.value) : replyFailure(404, outcome.failure);
}

function readQuery({ searchParams }: URL): LogbookQuery | undefined {
  const { paper: _, ...given } = Object.fromEntries(searchParams);
  const { with_replaced, ...rest } = given;
  return logbookQuery.safeParse({ ...rest, ...(with_replaced && { with_replaced: with_replaced === 'true' }) }).data;
}

function nameIn({ searchParams }: URL): string {
  return searchParams.get('name') ?? '';
}
