/** What a command is given of the world outside: where it prints, and which program it is. */
import type { TextStyle } from '../../report/text/text-layout.ts';

/** Where a command's text ends up. */
export interface Streams {
  /** The result. */
  readonly print: (text: string) => void;
  /** Everything else. */
  readonly remark: (text: string) => void;
  /** Stack traces of our own faults are wanted. */
  readonly trace: boolean;
  /** How the result is laid out: the width of the terminal, and whether it shows colours. */
  readonly style?: TextStyle;
  /** Somebody sees the remarks as they come, so that progress may be shown. */
  readonly isWatched?: boolean;
}

/** The same with everything made safe for a terminal on the way. */
export interface Terminal extends Streams {
  /** One line that is written over the one before, until the last one. */
  readonly progress: (line: string, isLast: boolean) => void;
}

export interface Software {
  readonly root: string;
  readonly version: string;
}

export interface CommandWorld {
  readonly terminal: Terminal;
  readonly software: Software;
}
