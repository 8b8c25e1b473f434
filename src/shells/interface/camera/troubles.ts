/** What can be wrong with a camera, each with a sentence and a remedy in the wording. */

export const TROUBLES = [
  'denied',
  'none',
  'busy',
  'unsupported',
  'ended',
  'muted',
  'silent',
  'rested',
  'unknown',
] as const;
export type Trouble = (typeof TROUBLES)[number];

/** Names of the errors with which a browser refuses a camera (Media Capture and Streams, W3C). */
const TROUBLE_OF_ERROR: Readonly<Record<string, Trouble>> = {
  NotAllowedError: 'denied',
  SecurityError: 'denied',
  NotFoundError: 'none',
  OverconstrainedError: 'none',
  NotReadableError: 'busy',
  AbortError: 'busy',
  TypeError: 'unsupported',
};

export function troubleOf(error: unknown): Trouble {
  const name = error instanceof Object && 'name' in error ? String(error.name) : '';
  return TROUBLE_OF_ERROR[name] ?? 'unknown';
}

/** Troubles that may pass by themselves; the camera stays on. */
export function isPassing(trouble: Trouble): boolean {
  return trouble === 'muted' || trouble === 'silent';
}
