/** The five places of the interface, in the order in which they are used. */
export const SCREENS = ['house', 'shots', 'reading', 'turns', 'booth'] as const;
export type ScreenName = (typeof SCREENS)[number];

/** Where somebody begins who comes without an address. */
export const FIRST_SCREEN: ScreenName = 'shots';

export const addressOf = (screen: ScreenName): string => `#/${screen}`;

/** The screen that stands in an address's fragment; the first one for fragments that name none. */
export function readScreen(fragment: string): ScreenName {
  const name = fragment.replace(/^#\//, '');
  return SCREENS.find((screen) => screen === name) ?? FIRST_SCREEN;
}
