/**
 * Events as one JSON object per line, for as long as somebody listens. A page that reads slowly hears the newest state
 * of each kind and not all that came before it, so nothing piles up.
 */
import type { Event } from '../../contract/events.ts';

export type Subscribe = (listener: (event: Event) => void) => () => void;

export function streamEvents(subscribe: Subscribe): ReadableStream<Uint8Array> {
  const newest = new Map<Event['type'], Event>();
  const encoder = new TextEncoder();
  let stop = () => {};
  let wake = () => {};
  return new ReadableStream({
    start() {
      stop = subscribe((event) => {
        newest.set(event.type, event);
        wake();
      });
    },
    async pull(controller) {
      if (newest.size === 0) {
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      }
      const lines = [...newest.values()].map((event) => `${JSON.stringify(event)}\n`).join('');
      newest.clear();
      controller.enqueue(encoder.encode(lines));
    },
    cancel: () => stop(),
  });
}
