/** Why a series of photographs gives no null, and what to do: one sentence each. */
import { type Facts, type RefusalWording, type RefusalWords, withNumber, withText } from './facts.ts';
import { translateRefusal } from './refusals.ts';

const NULL_REFUSALS: Readonly<Record<string, RefusalWording>> = {
  'turns-incomplete': (facts) => ({
    message: `Only ${withNumber(facts, 'counted', '', '') || 'some'} of the ${withNumber(facts, 'shots', '', ' ')}photographs have a turn.`,
    remedy: 'Give the turn of every photograph, or of none where the steps are equal.',
  }),

  'reference-shows-wrong-picture': (facts) => ({
    message: `The reference does not show the ${withText(facts, 'lens', '', '-eye') || 'leaking'} picture.`,
    remedy: `Take the reference through the ${withText(facts, 'lens', '') || 'other'} lens of the glasses, level, with everything else as it is for the series.`,
  }),

  'too-few-shots': (facts) => ({
    message: `There are too few photographs for a curve${withNumber(facts, 'shots', ': ', '', 3)}${withNumber(facts, 'needed', ', at least ', ' are needed', 3)}.`,
    remedy: 'Turn on by about five degrees, photograph again, and add that photograph to the series.',
  }),

  'same-angle': (facts) => ({
    message: `The photographs were taken at too few different turns${withNumber(facts, 'angles', ': ', '', 3)}${withNumber(facts, 'needed', ', at least ', ' are needed', 3)}.`,
    remedy: 'Turn by five to ten degrees between the photographs, and give each its own turn.',
  }),

  'steps-alias': (facts) => ({
    message: `The photographs fit more than one ${facts.step_deg === undefined ? 'curve' : 'size of the steps'}${
      typeof facts.step_deg === 'number' && typeof facts.other_step_deg === 'number'
        ? `: ${Math.round(facts.step_deg)}° and ${Math.round(facts.other_step_deg)}°`
        : ''
    }.`,
    remedy:
      'Take smaller steps, five to ten degrees, on both sides of the least ghost, or give the turn of each photograph.',
  }),

  'no-modulation': () => ({
    message: 'The ghost stays the same however it is turned.',
    remedy:
      'Turn by more, fifteen degrees to either side; if it still stays, the light is not polarized, or circular glasses are in use, and no turn cures that.',
  }),
};

/** Those that are said otherwise of a series than of a pair. */
const OF_A_SERIES: Readonly<Record<string, RefusalWording>> = {
  'camera-moved': (facts) => ({
    message: `The camera, or the film in the gate, moved between this photograph and the reference${withNumber(facts, 'moved_px', ', by ', ' px')}.`,
    remedy:
      'Lock the tripod, release the shutter without touching the camera, let film or loop stand steady, and take the series again.',
  }),
  'different-size': () => ({
    message: 'This photograph and the reference differ in size or orientation.',
    remedy: 'Take all with the same camera held the same way, and crop or resize none.',
  }),
  'same-eye-twice': (facts) => ({
    message: `This photograph shows the same picture as the reference${withText(facts, 'eye', ', the ', '-eye one')}.`,
    remedy: 'Take the series through one lens of the glasses and the reference through the other one.',
  }),
};

export const NULL_REFUSAL_CODES: readonly string[] = Object.keys(NULL_REFUSALS);

/** Throws RangeError on an unknown code. */
export function translateNullRefusal(code: string, facts: Facts): RefusalWords {
  const wording = NULL_REFUSALS[code] ?? OF_A_SERIES[code];
  return wording ? wording(facts, null) : translateRefusal(code, facts, null);
}
