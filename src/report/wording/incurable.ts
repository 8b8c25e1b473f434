/** Why no adjustment brings a term inside its limit. */
const REASONS: Readonly<Record<string, string>> = {};

export const INCURABLE_REASONS: readonly string[] = Object.keys(REASONS);

/** Throws on an unknown code, as `wordRefusal` does. */
export function wordIncurable(code: string): string {
  const words = REASONS[code];
  if (!words) throw new RangeError(`no wording for the reason "${code}"`);
  return words;
}
