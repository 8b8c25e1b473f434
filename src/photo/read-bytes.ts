/** A path -> the bytes of the file, read once; everything else works from these bytes. */
import { open, stat } from 'node:fs/promises';
import { type Refusal, refuse } from '../kernel/refusal.ts';

/** A photograph of 120 megapixels stored with 16 bits and without compression is larger; a camera's file never is. */
export const LARGEST_FILE_BYTES = 512 * 2 ** 20;

export type UnreadableFile = Refusal<'unreadable-photo' | 'photo-too-large'>;

/** Why the operating system would not give the file, by its error code. */
const SYSTEM_REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'missing',
  ENOTDIR: 'missing',
  ENAMETOOLONG: 'missing',
  ERR_INVALID_ARG_VALUE: 'missing',
  EACCES: 'no-permission',
  EPERM: 'no-permission',
};

export async function readBytes(path: string): Promise<Buffer | UnreadableFile> {
  try {
    // Asked before opening: opening a named pipe would wait for a writer for ever.
    const found = await stat(path);
    if (found.isDirectory()) return refuse('unreadable-photo', { reason: 'directory' });
    if (!found.isFile()) return refuse('unreadable-photo', { reason: 'not-a-file' });
    if (found.size > LARGEST_FILE_BYTES) {
      return refuse('photo-too-large', {
        reason: 'file-size',
        file_mib: Math.ceil(found.size / 2 ** 20),
        limit_mib: LARGEST_FILE_BYTES / 2 ** 20,
      });
    }
    const file = await open(path, 'r');
    try {
      const bytes = await file.readFile();
      return bytes.length > 0 ? bytes : refuse('unreadable-photo', { reason: 'empty' });
    } finally {
      await file.close();
    }
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    return refuse('unreadable-photo', { reason: SYSTEM_REASONS[code] ?? 'read-error', system_code: code });
  }
}
