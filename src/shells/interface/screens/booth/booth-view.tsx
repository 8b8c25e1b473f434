/** Booth view: to be drawn. */
import type { ScreenProps } from '../../app.tsx';
import { say } from '../../wording/say.ts';

export function BoothView(_: ScreenProps) {
  return <h1>{say('frame.booth')}</h1>;
}
