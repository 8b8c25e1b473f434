/**
 * A disk that does everything for real and writes down each step, and what a power cut leaves of the steps: file systems may
 * lose whatever was not synced, a file's content and a name in a folder apart from each other.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { type FileSystem, REAL_FILE_SYSTEM } from '../../src/storage/file-system.ts';
import type { RandomSource } from '../../src/kernel/random.ts';

export type Step =
  | { readonly kind: 'make'; readonly path: string }
  | { readonly kind: 'write'; readonly path: string; readonly content: Buffer }
  | { readonly kind: 'sync-file' | 'sync-folder' | 'remove'; readonly path: string }
  | { readonly kind: 'rename'; readonly path: string; readonly to: string }
  /** Not of the disk: the program said that this was safe. */
  | { readonly kind: 'told'; readonly id: string };

export class JournalFileSystem implements FileSystem {
  readonly steps: Step[] = [];

  async makeFolder(path: string) {
    await REAL_FILE_SYSTEM.makeFolder(path);
    this.steps.push({ kind: 'make', path });
  }

  async write(path: string, content: Uint8Array | string) {
    const isSynced = await REAL_FILE_SYSTEM.write(path, content);
    this.steps.push({ kind: 'write', path, content: Buffer.from(content as Uint8Array) }, { kind: 'sync-file', path });
    return isSynced;
  }

  async append(path: string, content: string) {
    await REAL_FILE_SYSTEM.append(path, content);
    this.steps.push({ kind: 'write', path, content: readFileSync(path) });
  }

  async syncFile(path: string) {
    this.steps.push({ kind: 'sync-file', path });
    return true;
  }

  async syncFolder(path: string) {
    this.steps.push({ kind: 'sync-folder', path });
    return true;
  }

  async rename(path: string, to: string) {
    await REAL_FILE_SYSTEM.rename(path, to);
    this.steps.push({ kind: 'rename', path, to });
  }

  async remove(path: string) {
    await REAL_FILE_SYSTEM.remove(path);
    this.steps.push({ kind: 'remove', path });
  }
}

/** Content as programs see it, and as it has reached the disk. */
interface Content {
  seen: Buffer;
  safe: Buffer | undefined;
}
type Node = 'folder' | Content;

/**
 *   unsynced-lost     nothing is there that was not synced
 *   names-before-content   every name is there, and contents are what was synced of them: often nothing
 *   at-random         of each name and content, either
 */
export type Loss = 'unsynced-lost' | 'names-before-content' | 'at-random';

/** Lays out in `target` what is left of `source` after the steps and a power cut. */
export function cutPower(
  steps: readonly Step[],
  source: string,
  target: string,
  loss: Loss,
  random: RandomSource,
): void {
  const seen = new Map<string, Node>([[source, 'folder']]);
  const safe = new Map<string, Node>([[source, 'folder']]);
  for (const step of steps) takeStep(step, seen, safe);
  const left = new Map<string, Node>();
  for (const path of new Set([...seen.keys(), ...safe.keys()])) {
    const sides = {
      'unsynced-lost': safe,
      'names-before-content': seen,
      'at-random': random.uniform() < 0.5 ? seen : safe,
    };
    const node = sides[loss].get(path);
    if (node) left.set(path, node);
  }
  for (const [path, node] of [...left].toSorted(([a], [b]) => a.length - b.length)) {
    const place = join(target, relative(source, path));
    // What stood in a folder that is not there itself is gone with it.
    if (path !== source && !isThere(dirname(path), source, left)) continue;
    if (node === 'folder') mkdirSync(place, { recursive: true });
    else writeFileSync(place, contentLeft(node, loss, random));
  }
}

function takeStep(step: Step, seen: Map<string, Node>, safe: Map<string, Node>): void {
  switch (step.kind) {
    case 'make':
      seen.set(step.path, 'folder');
      break;
    case 'write': {
      const old = seen.get(step.path);
      if (old && old !== 'folder') old.seen = step.content;
      else seen.set(step.path, { seen: step.content, safe: undefined });
      break;
    }
    case 'sync-file': {
      const node = seen.get(step.path);
      if (node && node !== 'folder') node.safe = node.seen;
      break;
    }
    case 'rename':
      seen.set(step.to, seen.get(step.path)!);
      seen.delete(step.path);
      break;
    case 'remove':
      seen.delete(step.path);
      break;
    case 'sync-folder':
      for (const path of [...safe.keys()]) if (dirname(path) === step.path && !seen.has(path)) safe.delete(path);
      for (const [path, node] of seen) if (dirname(path) === step.path) safe.set(path, node);
      break;
    case 'told':
      break;
  }
}

function isThere(folder: string, source: string, left: ReadonlyMap<string, Node>): boolean {
  return (
    folder === source ||
    (left.get(folder) === 'folder' && folder.includes(sep) && isThere(dirname(folder), source, left))
  );
}

function contentLeft({ seen, safe }: Content, loss: Loss, random: RandomSource): Buffer {
  const synced = safe ?? Buffer.alloc(0);
  if (loss !== 'at-random') return synced;
  // A part of what was not synced may have come through: of an appended file the beginning, of a new one any length.
  const part = seen.subarray(0, Math.floor(random.uniform() * (seen.length + 1)));
  return seen === safe ? synced : part.length > synced.length ? part : synced;
}
