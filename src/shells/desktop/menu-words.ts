/** Every word of the menu, in one place for translators. `&` marks the letter that opens an entry by key. */
export const MENU_WORDS = {
  file: '&File',
  addPhotographs: '&Add photographs…',
  measure: '&Measure',
  startOver: '&Start over',

  edit: '&Edit',

  view: '&View',
  house: '&House',
  shots: '&Shots',
  reading: '&Reading',
  turns: '&Turns',
  boothView: '&Booth view',
  exchangeTheme: 'Dark or li&ght',
  largerText: '&Larger text',
  smallerText: 'S&maller text',
  usualText: '&Usual text',

  window: '&Window',
} as const;
