/**
 * The share of one machine among several: shard 3/20 is the third of twenty. A set belongs to the shard that the hash of
 * its name says, so that the shares neither overlap nor change while other sets come and go.
 */
import { createHash } from 'node:crypto';

export interface Shard {
  /** From 1 to `of`. */
  readonly number: number;
  readonly of: number;
}

export function readShard(text: string): Shard | undefined {
  const [, number, of] = /^(\d{1,6})\/(\d{1,6})$/.exec(text) ?? [];
  const shard = { number: Number(number), of: Number(of) };
  return shard.number >= 1 && shard.number <= shard.of ? shard : undefined;
}

export function isInShard(name: string, { number, of }: Shard): boolean {
  // Forty-eight bits: exact as a number, and far more than shards.
  const hash = createHash('sha256').update(name.normalize('NFC')).digest().readUIntBE(0, 6);
  return hash % of === number - 1;
}
