/** Plays the outcome of each round that comes in while the booth view is open; never that of one that was there before. */
import { useEffect, useRef } from 'react';
import type { Round } from '../../../../contract/workspace.ts';
import { composeMelody, type Outcome, outcomeOf } from './melody.ts';

const LOUDNESS = 0.25;
/** Notes swell and fade in this time, so that nothing clicks. */
const EDGE_S = 0.02;

export function useBoothSound(isOn: boolean, round: Round | undefined): void {
  const heard = useRef(round?.number);
  useEffect(() => {
    if (round === undefined || round.number === heard.current) return;
    heard.current = round.number;
    if (isOn) play(outcomeOf(round));
  }, [isOn, round]);
}

function play(outcome: Outcome): void {
  const context = new AudioContext();
  const begin = context.currentTime + EDGE_S;
  const notes = composeMelody(outcome);
  for (const { hz, from_s, for_s } of notes) {
    const [oscillator, gain] = [context.createOscillator(), context.createGain()];
    oscillator.frequency.value = hz;
    gain.gain.setValueAtTime(0, begin + from_s);
    gain.gain.linearRampToValueAtTime(LOUDNESS, begin + from_s + EDGE_S);
    gain.gain.setValueAtTime(LOUDNESS, begin + from_s + for_s - EDGE_S);
    gain.gain.linearRampToValueAtTime(0, begin + from_s + for_s);
    oscillator.connect(gain).connect(context.destination);
    oscillator.start(begin + from_s);
    oscillator.stop(begin + from_s + for_s);
    if (hz === notes.at(-1)?.hz) oscillator.onended = () => void context.close();
  }
}
