/** Why two photographs of the ports tell nothing, and what to do: one sentence each. */
import { type Facts, type RefusalWording, type RefusalWords, type RefusedShot, withNumber } from './facts.ts';
import { translateRefusal } from './refusals.ts';

const PORT_REFUSALS: Readonly<Record<string, RefusalWording>> = {
  'no-ports': () => ({
    message: 'The photographs show no port that shines.',
    remedy:
      'Let the projector send a little light, focus on the front of the attachment, and fill a third of the photograph with it.',
  }),

  'one-port-only': () => ({
    message: 'The photographs show one bright patch where there should be two.',
    remedy:
      'Uncover both ports, take the attachment’s front on whole, and zoom in until the ports stand clearly apart; if the second stays dark through both lenses, its path is blocked.',
  }),

  'too-many-lights': (facts) => ({
    message: `The photographs show ${facts.lights === 2 ? 'two bright patches that are too unlike to be the ports' : `more bright patches than the two ports${withNumber(facts, 'lights', ': ', '', 3)}`}.`,
    remedy: 'Put out other lamps, hide reflections with a dark cloth, and zoom in on the attachment’s front.',
  }),

  'ports-too-small': () => ({
    message: 'The ports are too small in the photographs.',
    remedy: 'Zoom in or come nearer until the attachment’s front fills a third of the photograph.',
  }),
};

/** Those that are said otherwise of ports than of the target. */
const OF_PORTS: Readonly<Record<string, RefusalWording>> = {
  underexposed: (facts) => ({
    message: `Both photographs are too dark${withNumber(facts, 'brightest_pct', ': the brightest place reaches ', ' % of full light')}.`,
    remedy: 'Set a longer exposure by hand, the same for both; the bright port should be light grey and not white.',
  }),
  overexposed: () => ({
    message: 'A port is burnt out in both photographs.',
    remedy: 'Set a shorter exposure by hand, the same for both; the bright port should be light grey and not white.',
  }),
  'camera-moved': (facts) => ({
    message: `The camera moved between the two photographs${withNumber(facts, 'moved_px', ', by ', ' px')}.`,
    remedy:
      'Lock the tripod, release the shutter without touching the camera, turn only the glasses before it, and take both again.',
  }),
};

export const PORT_REFUSAL_CODES: readonly string[] = Object.keys(PORT_REFUSALS);

/** Throws RangeError on an unknown code. */
export function translatePortRefusal(code: string, facts: Facts, shot: RefusedShot): RefusalWords {
  const wording = PORT_REFUSALS[code] ?? OF_PORTS[code];
  return wording ? wording(facts, shot) : translateRefusal(code, facts, shot);
}
