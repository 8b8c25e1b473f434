/** Where in the picture light is stated, as the audience sees it. Apart, so that the command line can list them at no cost. */
export const PLACE_NAMES = [
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
