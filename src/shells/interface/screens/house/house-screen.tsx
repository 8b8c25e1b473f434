/** House: to be drawn. */
import type { ScreenProps } from '../../app.tsx';
import { say } from '../../wording/say.ts';

export function HouseScreen(_: ScreenProps) {
  return <h1>{say('frame.house')}</h1>;
}
