import { describe, expect, it } from 'vitest';
import { JobQueue } from '../../src/engine/job-queue.ts';

const job = (name: string) => ({ name, isFrame: false });
const frame = (name: string) => ({ name, isFrame: true });
const namesOf = (queue: JobQueue<ReturnType<typeof job>>) => queue.clear().map(({ name }) => name);

describe('JobQueue', () => {
  it('hands jobs out in the order in which they came', () => {
    const queue = new JobQueue<ReturnType<typeof job>>();
    for (const name of ['a', 'b', 'c']) expect(queue.add(job(name))).toBeUndefined();
    expect(queue.next()?.name).toBe('a');
    expect(namesOf(queue)).toEqual(['b', 'c']);
    expect(queue.next()).toBeUndefined();
  });

  it('keeps one frame, the newest, at the place of the first', () => {
    const queue = new JobQueue<ReturnType<typeof job>>();
    queue.add(job('a'));
    expect(queue.add(frame('1'))).toBeUndefined();
    queue.add(job('b'));
    expect(queue.add(frame('2'))?.name).toBe('1');
    expect(queue.add(frame('3'))?.name).toBe('2');
    expect(namesOf(queue)).toEqual(['a', '3', 'b']);
  });

  it('takes out a job that still waits, and says so', () => {
    const queue = new JobQueue<ReturnType<typeof job>>();
    const [a, b] = [job('a'), job('b')];
    queue.add(a);
    queue.add(b);
    expect(queue.remove(a)).toBe(true);
    expect(queue.remove(a)).toBe(false);
    expect(namesOf(queue)).toEqual(['b']);
  });
});
