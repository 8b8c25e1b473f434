/** Turns: to be drawn. */
import type { ScreenProps } from '../../app.tsx';
import { say } from '../../wording/say.ts';

export function TurnsScreen(_: ScreenProps) {
  return <h1>{say('frame.turns')}</h1>;
}
