/** What always stands beside advice about light: it leads to the lamp house, which is not the operator's to open. */
export const LAMP_CAUTION =
  'The lamp, its mirror and its current are set only by people who are qualified for this lamp house, by its manual and with it closed.';
