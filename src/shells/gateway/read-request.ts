/** What a request brings: its body, never more of it than is allowed, and the values in its address. */
import { type Paper, paper } from '../../contract/logbook.ts';

/** `cut-short`: whoever sent it has gone in the middle. */
export type ReadBody = Uint8Array<ArrayBuffer> | 'too-large' | 'cut-short';

export async function readBody(request: Request, limit: number): Promise<ReadBody> {
  const announced = Number(request.headers.get('content-length') ?? Number.NaN);
  if (announced > limit) return 'too-large';
  if (request.body === null) return new Uint8Array(0);
  // Room for what was announced, so that a large body is copied once; more is made where nothing was.
  let bytes = new Uint8Array(Number.isSafeInteger(announced) && announced >= 0 ? announced : 0);
  let length = 0;
  const reader = request.body.getReader();
  for (;;) {
    const part = await reader.read().catch(() => undefined);
    if (part === undefined) return 'cut-short';
    const { done, value } = part;
    if (done) return length === bytes.length ? bytes : bytes.slice(0, length);
    if (length + value.length > limit) {
      // Not waited for: whoever sends too much need not agree to stop.
      void reader.cancel().catch(() => undefined);
      return 'too-large';
    }
    if (length + value.length > bytes.length) bytes = enlarge(bytes, Math.min(limit, 2 * (length + value.length)));
    bytes.set(value, length);
    length += value.length;
  }
}

function enlarge(bytes: Uint8Array<ArrayBuffer>, size: number): Uint8Array<ArrayBuffer> {
  const larger = new Uint8Array(size);
  larger.set(bytes);
  return larger;
}

const WIDEST_VIEW_PX = 16384;

export function wholeNumber(text: string | null): number | undefined {
  return text !== null && /^\d{1,9}$/.test(text) ? Number(text) : undefined;
}

export function viewWidth({ searchParams }: URL): number | undefined | 'wrong' {
  const given = searchParams.get('width');
  if (given === null) return undefined;
  const width = wholeNumber(given);
  return width !== undefined && width >= 1 && width <= WIDEST_VIEW_PX ? width : 'wrong';
}

/** A4 where nobody says; `undefined` for what is no paper. */
export function readPaper({ searchParams }: URL): Paper | undefined {
  return paper.safeParse(searchParams.get('paper') ?? 'a4').data;
}
