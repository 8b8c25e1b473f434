/** Names that a bundle may hold, and what is wrong with any other. */
import { MANIFEST_NAME, REPORT_NAME } from '../../record/bundle.ts';
import type { PhotographEnding } from '../../record/entry.ts';

export const nameOfEntry = (id: string) => `entries/${id}.json`;
export const nameOfAddition = (id: string) => `additions/${id}.json`;
export const nameOfPhotograph = (sha256: string, ending: PhotographEnding) => `photographs/${sha256}.${ending}`;

const RECORD = /^(entries|additions)\/([0-9a-f]{64})\.json$/;
const PHOTOGRAPH = /^photographs\/([0-9a-f]{64})\.(jpg|png|tif)$/;
/** Folders may be listed by themselves. */
const FOLDERS = new Set(['entries/', 'additions/', 'photographs/']);

export type Member =
  | { readonly sort: 'entry' | 'addition'; readonly id: string }
  | { readonly sort: 'photograph'; readonly sha256: string; readonly ending: PhotographEnding }
  | { readonly sort: 'manifest' | 'report' | 'folder' }
  | { readonly sort: 'wrong'; readonly code: 'path-outside' | 'path-absolute' | 'surplus-file' };

export function readMemberName(name: string): Member {
  if (name === MANIFEST_NAME) return { sort: 'manifest' };
  if (name === REPORT_NAME) return { sort: 'report' };
  if (FOLDERS.has(name)) return { sort: 'folder' };
  const record = RECORD.exec(name);
  if (record) return { sort: record[1] === 'entries' ? 'entry' : 'addition', id: record[2]! };
  const photograph = PHOTOGRAPH.exec(name);
  if (photograph) {
    return { sort: 'photograph', sha256: photograph[1]!, ending: photograph[2] as PhotographEnding };
  }
  const parts = name.split(/[/\\]/);
  if (parts.includes('..')) return { sort: 'wrong', code: 'path-outside' };
  if (/^([/\\]|[A-Za-z]:)/.test(name)) return { sort: 'wrong', code: 'path-absolute' };
  return { sort: 'wrong', code: 'surplus-file' };
}
