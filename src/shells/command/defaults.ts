/** Defaults of the command line. Kept apart from the rooms, so that `--help` loads none of them; a test compares them. */
import { DEFAULT_ASPECT } from '../../kernel/aspect.ts';

export const DEFAULTS = {
  aspect: DEFAULT_ASPECT,
  height_px: 1744,
  /** For `--two-up` without a value: septum and frame line alike. */
  centreToCentre_in: 0.375,
  upperEye: 'right',
  demoReport: 'demo-report/report.html',
} as const;
