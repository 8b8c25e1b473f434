/** The body of a request, never more of it than is allowed: what announces too much is not read at all. */

/** `undefined` where there is more than `most` bytes. */
export async function readBody(request: Request, most: number): Promise<Uint8Array<ArrayBuffer> | undefined> {
  const announced = Number(request.headers.get('content-length') ?? Number.NaN);
  if (announced > most) return undefined;
  if (request.body === null) return new Uint8Array(0);
  // Room for what was announced, so that a large body is copied once; more is made where nothing was.
  let bytes = new Uint8Array(Number.isSafeInteger(announced) && announced >= 0 ? announced : 0);
  let length = 0;
  const reader = request.body.getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return length === bytes.length ? bytes : bytes.slice(0, length);
    if (length + value.length > most) {
      // Not waited for: whoever sends too much need not agree to stop.
      void reader.cancel().catch(() => undefined);
      return undefined;
    }
    if (length + value.length > bytes.length) bytes = enlarge(bytes, Math.min(most, 2 * (length + value.length)));
    bytes.set(value, length);
    length += value.length;
  }
}

function enlarge(bytes: Uint8Array<ArrayBuffer>, size: number): Uint8Array<ArrayBuffer> {
  const larger = new Uint8Array(size);
  larger.set(bytes);
  return larger;
}
