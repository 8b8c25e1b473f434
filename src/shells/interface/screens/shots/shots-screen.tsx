/** Shots: to be drawn. */
import type { ScreenProps } from '../../app.tsx';
import { say } from '../../wording/say.ts';

export function ShotsScreen(_: ScreenProps) {
  return <h1>{say('frame.shots')}</h1>;
}
