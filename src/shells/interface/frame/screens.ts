/** The operator's places, in the order in which they are used. */
export const CHAIN = ['house', 'shots', 'reading', 'turns', 'booth'] as const;
/** What lies beside the chain. */
export const FURTHER = ['polarizers', 'light', 'logbook'] as const;
export const SCREENS = [...CHAIN, ...FURTHER] as const;
export type ScreenName = (typeof SCREENS)[number];

/** Where somebody begins who comes without an address. */
export const FIRST_SCREEN: ScreenName = 'shots';

export const addressOf = (screen: ScreenName): string => `#/${screen}`;

/** The screen that an address's fragment begins with; the first one for fragments that name none. Places of a screen follow. */
export function readScreen(fragment: string): ScreenName {
  const [name] = fragment.replace(/^#\//, '').split('/');
  return SCREENS.find((screen) => screen === name) ?? FIRST_SCREEN;
}
