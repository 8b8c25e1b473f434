/** Photographs that are to be kept -> what a record says of them, and their bytes. */
import { readFile } from 'node:fs/promises';
import { refuse } from '../kernel/refusal.ts';
import { recogniseFormat } from '../photo/recognise-format.ts';
import type { KeptPhotograph, PhotographEnding } from '../record/entry.ts';
import { hashBytes } from './hash.ts';
import type { GivenPhotograph, LogbookRefusal } from './logbook.ts';

const ENDINGS: Readonly<Record<string, PhotographEnding>> = { JPEG: 'jpg', PNG: 'png', TIFF: 'tif' };

export interface IngestedPhotograph {
  readonly kept: KeptPhotograph;
  readonly bytes: Buffer;
}

export async function ingestPhotograph({ path, name }: GivenPhotograph): Promise<IngestedPhotograph | LogbookRefusal> {
  let bytes: Buffer;
  try {
    bytes = await readFile(path);
  } catch (error) {
    return refuse('photograph-unreadable', {
      file: name,
      system_code: (error as NodeJS.ErrnoException).code ?? 'unknown',
    });
  }
  const format = recogniseFormat(bytes);
  const ending = ENDINGS[format];
  if (ending === undefined) return refuse('photograph-unsupported', { file: name, format });
  return { kept: { name: wholeCharacters(name), sha256: hashBytes(bytes), bytes: bytes.length, ending }, bytes };
}

/** Names of files may hold what no text may: halves of characters. */
function wholeCharacters(name: string): string {
  return name.replace(/\p{Cs}/gu, '\ufffd').slice(0, 1000);
}
