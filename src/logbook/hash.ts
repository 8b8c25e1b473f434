/** Hashes of what is kept. */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { canonicalJson } from '../record/canonical-json.ts';

export function hashBytes(bytes: Uint8Array | string): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** Without taking the whole file into memory. */
export async function hashFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const piece of createReadStream(path)) hash.update(piece as Buffer);
  return hash.digest('hex');
}

/** A record's bytes and its identity. */
export function sealRecord(record: object): { readonly id: string; readonly text: string } {
  const text = canonicalJson(record);
  return { id: hashBytes(text), text };
}
