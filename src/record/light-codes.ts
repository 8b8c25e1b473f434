/** Names and codes that stand in records of light. Free of the schema library, for whoever needs the names only. */

/** Where in the picture light is stated, as the audience sees it. */
export const LIGHT_PLACES = [
  'centre',
  'left',
  'right',
  'top',
  'bottom',
  'top-left',
  'top-right',
  'bottom-left',
  'bottom-right',
] as const;
export type LightPlace = (typeof LIGHT_PLACES)[number];

/** `left-eye`, `right-eye`: from the target. The others: the whole light of an open gate, through a lens or none. */
export const LIT_PICTURES = ['left-eye', 'right-eye', 'left-lens', 'right-lens', 'bare'] as const;
export type LitPicture = (typeof LIT_PICTURES)[number];

export const LIGHT_LIMIT_CODES = [
  'centre-film-open-gate',
  'centre-film-older-british',
  'centre-digital',
  'at-the-eye',
  'edge-film',
  'sides-digital',
  'balance-comfort',
  'balance-depth',
] as const;
export type LightLimitCode = (typeof LIGHT_LIMIT_CODES)[number];

export const LIGHT_LIMIT_BASES = ['published', 'as-reported', 'from-memory'] as const;
export type LightLimitBasis = (typeof LIGHT_LIMIT_BASES)[number];

/** Of a light budget. `other`: a step that only this house has, with a name of its own. */
export const STEP_CODES = [
  'aperture-area',
  'picture-area',
  'film-base',
  'polarizer',
  'attachment',
  'port-glass',
  'screen-gain',
  'glasses',
  'other',
] as const;
export type StepCode = (typeof STEP_CODES)[number];

/** `house`: measured or stated by the house. */
export const FACTOR_BASES = [
  'published',
  'as-reported',
  'computed',
  'common-practice',
  'from-memory',
  'house',
] as const;
export type FactorBasis = (typeof FACTOR_BASES)[number];

/** What it takes to better a step; the later ones cost more. */
export const EFFORTS = ['cleaning', 'setting', 'part', 'installation'] as const;
export type Effort = (typeof EFFORTS)[number];
