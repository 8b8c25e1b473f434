/** Reading: to be drawn. */
import type { ScreenProps } from '../../app.tsx';
import { say } from '../../wording/say.ts';

export function ReadingScreen(_: ScreenProps) {
  return <h1>{say('frame.reading')}</h1>;
}
