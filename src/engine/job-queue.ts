/**
 * Jobs in the order in which they came. Of live frames only the newest one waits: it takes the place of the one that
 * waited before, so that frames neither pile up behind other work nor push themselves before it.
 */
export interface Queued {
  readonly isFrame: boolean;
}

export class JobQueue<J extends Queued> {
  #waiting: J[] = [];

  /** Answers the frame that gave way, if one did. */
  add(job: J): J | undefined {
    const stale = job.isFrame ? this.#waiting.findIndex(({ isFrame }) => isFrame) : -1;
    if (stale < 0) {
      this.#waiting.push(job);
      return undefined;
    }
    return this.#waiting.splice(stale, 1, job)[0];
  }

  /** Takes out the one that is next. */
  next(): J | undefined {
    return this.#waiting.shift();
  }

  /** Whether it was still waiting. */
  remove(job: J): boolean {
    const index = this.#waiting.indexOf(job);
    if (index >= 0) this.#waiting.splice(index, 1);
    return index >= 0;
  }

  /** Takes out all of them. */
  clear(): J[] {
    return this.#waiting.splice(0);
  }
}
