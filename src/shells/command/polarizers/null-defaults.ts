/** Defaults of the null search, kept apart so that help loads none of its work. */
import { DEFAULT_ASPECT } from '../../../kernel/aspect.ts';

export const NULL_DEFAULTS = {
  aspect: DEFAULT_ASPECT,
  /** A scale read by eye, at the rim of a mount. An assumption of ours. */
  doubt_deg: 0.5,
} as const;
