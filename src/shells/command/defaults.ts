/** Defaults of the command line. Kept apart from the rooms, so that `--help` loads none of them; a test compares them. */
export const DEFAULTS = {
  aspect: 2.35,
  height_px: 1744,
  /** For `--two-up` without a value: septum and frame line alike. */
  centreToCentre_in: 0.375,
  upperEye: 'right',
  demoReport: 'demo-report/report.html',
} as const;
