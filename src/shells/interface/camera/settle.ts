/** Keeps a word from flickering: a new one is shown once it has held for a while. */
export interface Settler<T> {
  /** What to show now. */
  next(value: T, now_ms: number): T;
}

export function createSettler<T>(hold_ms: number): Settler<T> {
  let shown: { readonly value: T } | undefined;
  let coming: { readonly value: T; readonly since_ms: number } | undefined;
  return {
    next(value, now_ms) {
      shown ??= { value };
      if (value === shown.value) coming = undefined;
      else if (coming?.value !== value) coming = { value, since_ms: now_ms };
      if (coming && now_ms - coming.since_ms >= hold_ms) {
        shown = { value: coming.value };
        coming = undefined;
      }
      return shown.value;
    },
  };
}
