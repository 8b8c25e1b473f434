/** A whole JPEG -> the same with damage as disks, cards and cables make it; the same seed makes the same damage. */
import { createRandom, type RandomSource } from '../../../src/kernel/random.ts';

export const DAMAGES = ['bit-flips', 'repeated-block', 'exchanged-blocks', 'zero-run', 'exchanged-scans'] as const;
export type Damage = (typeof DAMAGES)[number];

/** `exchanged-scans` exchanges the scans of a progressive file, and the halves of the only scan of any other. */
export function damageJpeg(bytes: Uint8Array, kind: Damage, seed: number): Uint8Array {
  const random = createRandom(seed);
  const damaged = Uint8Array.from(bytes);
  const scans = findScans(bytes);
  const first = scans[0]!.from;
  const length = scans.at(-1)!.to - first;
  const size = 512 * (1 + whole(random, 4));
  const place = () => first + whole(random, Math.max(1, length - size));
  if (kind === 'bit-flips') {
    for (let i = 1 + whole(random, 3); i > 0; i--) damaged[first + whole(random, length)]! ^= 1 << whole(random, 8);
  } else if (kind === 'repeated-block') {
    const from = place();
    damaged.copyWithin(Math.min(from + size, first + length - size), from, from + size);
  } else if (kind === 'exchanged-blocks') {
    const [a, b] = [place(), place()];
    const kept = damaged.slice(a, a + size);
    damaged.copyWithin(a, b, b + size);
    damaged.set(kept, b);
  } else if (kind === 'zero-run') {
    const from = place();
    damaged.fill(0, from, from + size);
  } else return exchangeScans(bytes, scans, random);
  return damaged;
}

interface Span {
  readonly from: number;
  readonly to: number;
}

/** The entropy-coded data behind each scan's header. */
function findScans(bytes: Uint8Array): Span[] {
  const scans: Span[] = [];
  let at = 2;
  while (at + 4 < bytes.length && bytes[at + 1] !== 0xd9) {
    const marker = bytes[at + 1]!;
    at += 2 + ((bytes[at + 2]! << 8) | bytes[at + 3]!);
    if (marker !== 0xda) continue;
    const from = at;
    while (!(bytes[at] === 0xff && bytes[at + 1] !== 0 && !(bytes[at + 1]! >= 0xd0 && bytes[at + 1]! <= 0xd7))) at++;
    scans.push({ from, to: at });
  }
  return scans;
}

function exchangeScans(bytes: Uint8Array, scans: readonly Span[], random: RandomSource): Uint8Array {
  const [a, b] = scans.length > 1 ? twoOf(scans, random) : halvesOf(scans[0]!, random);
  const part = (from: number, to: number) => bytes.subarray(from, to);
  return Buffer.concat([
    part(0, a.from),
    part(b.from, b.to),
    part(a.to, b.from),
    part(a.from, a.to),
    part(b.to, bytes.length),
  ]);
}

function twoOf(scans: readonly Span[], random: RandomSource): [Span, Span] {
  const i = whole(random, scans.length - 1);
  const j = i + 1 + whole(random, scans.length - 1 - i);
  return [scans[i]!, scans[j]!];
}

function halvesOf({ from, to }: Span, random: RandomSource): [Span, Span] {
  const cut = from + 1 + whole(random, to - from - 2);
  return [
    { from, to: cut },
    { from: cut, to },
  ];
}

function whole(random: RandomSource, below: number): number {
  return Math.floor(random.uniform() * below);
}
