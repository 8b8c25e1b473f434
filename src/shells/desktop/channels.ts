/** The names under which the page's preload and the program speak. */
export const CHANNELS = {
  /** To the program: the system's dialog for photographs. No payload; an outcome with the photographs. */
  choosePhotographs: 'choose-photographs',
  /** To the page: one command of the menu. */
  command: 'command',
} as const;
