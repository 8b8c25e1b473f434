/**
 * Holds a camera's exposure, white balance and focus where they stand, while the frames of a shot are gathered: a mean of
 * frames with different exposures is of none. Cameras that cannot be held are left as they are; the shot is taken all
 * the same, and what automatic setting does to it shows in what is seen of it.
 */

/** What a camera can be told by the Image Capture rules of the W3C, which the language's own types lack. */
const MODES = ['exposureMode', 'whiteBalanceMode', 'focusMode'] as const;
type ModeName = (typeof MODES)[number];
type Modes = Partial<Record<ModeName, string>>;

export interface Held {
  getCapabilities?(): object;
  getSettings?(): object;
  applyConstraints(wanted: { advanced: object[] }): Promise<void>;
}

/** Those of the automatic modes that can be held, and how to leave them again; undefined where there are none. */
export function chooseModes(
  can: Partial<Record<ModeName, readonly string[]>>,
  now: Modes,
): { readonly held: Modes; readonly free: Modes } | undefined {
  const names = MODES.filter((name) => can[name]?.includes('manual') && now[name] !== 'manual');
  if (names.length === 0) return undefined;
  const free = names.map((name) => [name, now[name] ?? (can[name]!.includes('continuous') ? 'continuous' : undefined)]);
  return {
    held: Object.fromEntries(names.map((name) => [name, 'manual'])),
    free: Object.fromEntries(free.filter(([, mode]) => mode !== undefined)),
  };
}

/** The answer lets go again. Nothing is thrown. */
export function holdExposure(track: Held): () => void {
  const modes = chooseModes(track.getCapabilities?.() ?? {}, track.getSettings?.() ?? {});
  if (!modes) return () => {};
  const apply = (wanted: Modes) => track.applyConstraints({ advanced: [wanted] });
  const holding = apply(modes.held).catch(() => undefined);
  return () => void holding.then(() => apply(modes.free)).catch(() => undefined);
}
