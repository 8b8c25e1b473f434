/** Pictures of random samples, and a folder to store them in for as long as a test file runs. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, expect } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import type { Photo } from '../../src/photo/photo.ts';
import { readPhoto } from '../../src/photo/read-photo.ts';

export const WIDTH = 120;
export const HEIGHT = 80;

function randomSamples(count: number, levels: 256 | 65536): Uint8Array | Uint16Array {
  const random = createRandom(31);
  const samples = levels === 256 ? new Uint8Array(count) : new Uint16Array(count);
  for (let i = 0; i < count; i++) samples[i] = Math.floor(random.uniform() * levels);
  return samples;
}

export const COLOUR = randomSamples(WIDTH * HEIGHT * 3, 256);
export const GREY = randomSamples(WIDTH * HEIGHT, 256);
export const DEEP = randomSamples(WIDTH * HEIGHT * 3, 65536);
export const DEEP_GREY = randomSamples(WIDTH * HEIGHT, 65536);

export function picture(data: Uint8Array | Uint16Array, channels: 1 | 2 | 3 | 4) {
  return sharp(data, { raw: { width: WIDTH, height: HEIGHT, channels } });
}

let folder = '';

/** For as long as the test file that asks for it runs. */
export function storeInFolder(): void {
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'twinplumb-photo-'));
  });
  afterAll(() => rm(folder, { recursive: true }));
}

export function pathOf(name: string): string {
  return join(folder, name);
}

export async function store(name: string, bytes: Uint8Array): Promise<string> {
  await writeFile(pathOf(name), bytes);
  return pathOf(name);
}

export async function readBack(name: string, bytes: Uint8Array): Promise<Photo> {
  const reading = await readPhoto(await store(name, bytes));
  if (reading.outcome === 'refused') throw new Error(`refused: ${JSON.stringify(reading)}`);
  return reading.photo;
}

export async function expectRefusal(path: string, code: string, facts: Record<string, unknown>): Promise<void> {
  expect(await readPhoto(path)).toEqual({ outcome: 'refused', code, facts });
}
