/** Names that stand in readings. Free of the schema library, for whoever needs the names only. */

export const READING_SCHEMA = 'twinplumb.reading/1';

/** The eight terms, in the order in which they are always listed. */
export const TERM_FIELDS = [
  'vertical_offset_pct',
  'horizontal_offset_pct',
  'rotation_deg',
  'size_pct',
  'stretch_pct',
  'shear_pct',
  'keystone_h_pct',
  'keystone_v_pct',
] as const;
export type TermField = (typeof TERM_FIELDS)[number];

/** The terms, and the largest vertical displacement that they make together. */
export const REPORTED_FIELDS = [...TERM_FIELDS, 'worst_vertical_pct'] as const;
export type ReportedField = (typeof REPORTED_FIELDS)[number];

/** What both lenses together make of the eyes. */
export const EYE_CLASSES = [
  'separated',
  'swapped',
  'one-eye-missing',
  'both-in-both',
  'balanced-leak',
  'one-sided-leak',
  'undecided',
] as const;
export type EyeClass = (typeof EYE_CLASSES)[number];
