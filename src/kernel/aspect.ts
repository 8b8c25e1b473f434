/** Width over height of a picture on the screen. */

/** Of the usual wide picture, where nobody says. */
export const DEFAULT_ASPECT = 2.35;
/** Targets are drawn, and pictures measured, between these. */
export const ASPECT_RANGE = { min: 1.33, max: 2.6 } as const;
