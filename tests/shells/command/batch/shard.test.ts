import { describe, expect, it } from 'vitest';
import { isInShard, readShard } from '../../../../src/shells/command/batch/shard.ts';

describe('a shard', () => {
  it.each(['3/20', '1/1', '20/20'])('is read (%s)', (text) => {
    expect(readShard(text)).toEqual({ number: Number(text.split('/')[0]), of: Number(text.split('/')[1]) });
  });

  it.each(['0/3', '4/3', '1/0', '1', 'a/b', '1/2/3', '-1/3', '1.5/3', ''])('is not read (%s)', (text) => {
    expect(readShard(text)).toBeUndefined();
  });

  const names = Array.from({ length: 2000 }, (_, i) => `house ${i}/set`);

  it('shares sets out so that each has one place', () => {
    const counts = [1, 2, 3, 4, 5, 6, 7].map(
      (number) => names.filter((name) => isInShard(name, { number, of: 7 })).length,
    );
    expect(counts.reduce((sum, count) => sum + count)).toBe(names.length);
    // 2000/7 = 286 with a standard deviation of 16.
    for (const count of counts) expect(Math.abs(count - 286)).toBeLessThan(80);
  });

  it('is the same on every machine and does not depend on other sets', () => {
    expect(
      names
        .slice(0, 12)
        .map((name) => [1, 2, 3].find((number) => isInShard(name, { number, of: 3 })))
        .join(''),
    ).toBe('122133322222');
    expect(isInShard('Caf\u00e9', { number: 1, of: 2 })).toBe(isInShard('Cafe\u0301', { number: 1, of: 2 }));
  });
});
