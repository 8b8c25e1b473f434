/** Why photographs allow no honest figure of light, and what to do: one sentence each. */
import { type Facts, type RefusalWording, type RefusalWords, withNumber } from './facts.ts';
import { translateRefusal } from './refusals.ts';

const NAMES: Readonly<Record<string, string>> = {
  'left-lens': 'the photograph through the left lens',
  'right-lens': 'the photograph through the right lens',
  bare: 'the photograph without glasses',
  'flat-field': 'the photograph of the even surface',
  'turned-camera': 'the photograph with the camera panned',
};

type Words = (facts: Facts, name: string) => RefusalWords;

const count = (facts: Facts) =>
  `${withNumber(facts, 'found', ': ', '', 3)}${withNumber(facts, 'needed', ', at least ', ' are needed', 3)}`;

const LIGHT_REFUSALS: Readonly<Record<string, Words>> = {
  'too-few-samples': (facts, name) => {
    const remedies: Readonly<Record<string, string>> = {
      [NAMES['flat-field']!]:
        'Photograph a surface that fills the whole frame evenly, and expose so that nothing burns out.',
      [NAMES['turned-camera']!]:
        'Take it through the same lens as the first one, with the whole picture in the frame and nothing burnt out.',
    };
    return {
      message: `${capital(name)} shows too few places whose light counts${count(facts)}.`,
      remedy:
        remedies[name] ??
        'Take the whole picture into the frame, clear heads and masking out of it, and expose so that nothing burns out.',
    };
  },

  'samples-not-spread': (_facts, name) => ({
    message: `${capital(name)} shows light only in one part of the picture.`,
    remedy: 'Take the whole picture into the frame and photograph again.',
  }),

  'camera-not-turned': (facts) => ({
    message: `The camera was hardly panned between the two photographs${withNumber(facts, 'corner_u_pct', ': its corners stay unknown to ', ' %')}.`,
    remedy:
      'Pan so far that the picture moves by a fifth of the frame, sideways and upwards, and keep all of it in the frame.',
  }),

  'no-bright-picture': (_facts, name) => ({
    message: `${capital(name)} shows no bright picture that stands out from the dark.`,
    remedy:
      'Open the gate without film, switch the house lights off, fill most of the frame with the picture and photograph again.',
  }),

  'picture-cut-off': (_facts, name) => ({
    message: `The edge of the frame cuts the picture in ${name}.`,
    remedy: 'Zoom out until there is dark all round the picture, and photograph again.',
  }),

  'picture-not-rectangular': (facts, name) => ({
    message: `The bright area in ${name} is no rectangle${withNumber(facts, 'filled_pct', ': it fills ', ' % of one')}.`,
    remedy: 'Clear heads and masking out of the picture, look from near the middle of the house, and photograph again.',
  }),

  // Those that are said otherwise of light than of a measurement.
  overexposed: (facts, name) => ({
    message: `${capital(name)} is overexposed${withNumber(facts, 'clipped_pct', ': ', ' % of what counts is burnt out')}.`,
    remedy: 'Set the exposure by hand one to two stops lower, alike for all photographs, and photograph again.',
  }),
  underexposed: (_facts, name) => ({
    message: `${capital(name)} is too dark for its light to be measured.`,
    remedy: 'Set a longer exposure by hand, alike for all photographs, and photograph again.',
  }),
  'different-size': (_facts, name) => ({
    message: `${capital(name)} has another size or orientation than the first one.`,
    remedy: 'Take all with the same camera held the same way, and crop or resize none.',
  }),
};

/** Why a leak gives no angle of a polarizer. */
const LEAK_REFUSALS: Readonly<Record<string, RefusalWording>> = {
  'leak-below-floor': (facts) => ({
    message: `The leak${withNumber(facts, 'leak_pct', ', ', ' %,')} lies below what screen and sheets leak anyway${withNumber(facts, 'floor_pct', ', ', ' %')}.`,
    remedy: 'Leave this polarizer alone; if its floor was only assumed, measure it by a null search.',
  }),
  'floor-unusable': (facts) => ({
    message: `So much leaks at the best angle${withNumber(facts, 'floor_pct', ', ', ' %,')} that an angle cannot be told from the leak${withNumber(facts, 'limit_pct', '; the limit is ', ' %')}.`,
    remedy: 'Look for what depolarizes first: screen, port glass, dirt or heat on the sheets.',
  }),
};

export const LIGHT_REFUSAL_CODES: readonly string[] = [...Object.keys(LIGHT_REFUSALS), ...Object.keys(LEAK_REFUSALS)];

/** `shot`: the role of the photograph, null where it lies in none of them alone. Throws RangeError on an unknown code. */
export function translateLightRefusal(code: string, facts: Facts, shot: string | null): RefusalWords {
  const name = (shot === null ? undefined : NAMES[shot]) ?? 'a photograph';
  const wording = LIGHT_REFUSALS[code];
  if (wording) return wording(facts, name);
  const ofLeak = LEAK_REFUSALS[code];
  if (ofLeak) return ofLeak(facts, null);
  const known = shot === 'left-lens' || shot === 'right-lens' || shot === 'bare' ? shot : null;
  const words = translateRefusal(code, facts, known);
  // Flat and panned photographs have no name in a measurement.
  return known === null && shot !== null
    ? { ...words, message: words.message.replace(/^A photograph/, capital(name)) }
    : words;
}

function capital(text: string): string {
  return `${text[0]!.toUpperCase()}${text.slice(1)}`;
}
