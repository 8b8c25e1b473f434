/**
 * Why no honest answer is possible, and what to do: one sentence each. Numbers come from the refusal's facts; where
 * one is missing the sentence does without it.
 */
import {
  type Facts,
  nameShot,
  type RefusalWording,
  type RefusalWords,
  type RefusedShot,
  withNumber,
  withText,
} from './facts.ts';
import { translateInvalidHouse } from './invalid-house.ts';
import { TRIAL_REFUSALS } from './trial-refusals.ts';
import { translateUnreadablePhoto } from './unreadable-photo.ts';
import { translateUnsupportedFormat } from './unsupported-format.ts';

const REFUSALS: Readonly<Record<string, RefusalWording>> = {
  'unreadable-photo': translateUnreadablePhoto,
  'unsupported-format': translateUnsupportedFormat,

  'photo-too-large': (facts, shot) => ({
    message: `${nameShot(shot)} is larger than Twinplumb reads${withNumber(facts, 'megapixels', ': ', ' megapixels', 3)}${withNumber(facts, 'limit_megapixels', ', at most ', '', 3)}${withNumber(facts, 'file_mib', ': ', ' MiB', 4)}${withNumber(facts, 'limit_mib', ', at most ', '', 4)}.`,
    remedy: 'Set the camera to 50 megapixels or fewer, or export the photograph as JPEG.',
  }),

  'no-target': (_facts, shot) => ({
    message: `${nameShot(shot)} shows no alignment target.`,
    remedy:
      'Project the target made by `twinplumb target`, fill most of the photograph with the picture, focus on the screen and photograph again.',
  }),

  'too-few-marks': (facts, shot) => {
    const needed = withNumber(facts, 'needed', ', at least ', ' are needed', 3);
    const found = withNumber(facts, 'found', ': ', facts.found === 1 ? ' mark' : ' marks', 3);
    return {
      message: `${nameShot(shot)} shows too little of the target${found && `${found}${needed}`}.`,
      remedy:
        'Take the whole picture into the frame, clear heads, masking and reflections out of it, and photograph again.',
    };
  },

  blurred: (facts, shot) => ({
    message: `${nameShot(shot)} is not sharp enough to measure${withNumber(facts, 'blur_px', ': the edges are ', ' px soft')}${withNumber(facts, 'limit_px', ', the limit is ', ' px')}.`,
    remedy: 'Focus camera and projector on the screen, use the tripod with a self-timer, and photograph again.',
  }),

  overexposed: (facts, shot) => ({
    message: `${nameShot(shot)} is overexposed${withNumber(facts, 'clipped_pct', ': ', ' % of what counts is burnt out')}.`,
    remedy: 'Set the exposure by hand one to two stops lower, the same for both photographs, and photograph again.',
  }),

  underexposed: (facts, shot) => ({
    message: `${nameShot(shot)} is too dark to measure${withNumber(facts, 'brightest_pct', ': the brightest marks reach ', ' % of full scale')}.`,
    remedy: 'Set a longer exposure by hand, the same for both photographs, and photograph again.',
  }),

  'same-photo-twice': (_facts, shot) =>
    shot === 'closing'
      ? {
          message: 'The closing photograph is the first one once more.',
          remedy: 'Photograph through the left lens again after the right one, or leave the closing photograph out.',
        }
      : {
          message: 'Both photographs are the same one.',
          remedy: 'Give the photograph taken through the left lens and the one taken through the right lens.',
        },

  'same-eye-twice': (facts) => ({
    message: `Both photographs show the ${withText(facts, 'eye', '', '-eye') || 'same eye’s'} picture.`,
    remedy: 'Turn the other lens of the glasses before the camera and take the second photograph again.',
  }),

  'closing-other-eye': (facts) => ({
    message: `The closing photograph does not show the ${withText(facts, 'eye', '', '-eye ')}picture that the first one shows.`,
    remedy: 'Take the closing photograph through the left lens, as the first one, or leave it out.',
  }),

  'camera-moved': (facts, shot) => {
    const [span, all] =
      shot === 'closing'
        ? ['the first and the closing photograph', 'all of them']
        : ['the two photographs', 'both photographs'];
    return {
      message: `The camera, or the film in the gate, moved between ${span}${withNumber(facts, 'moved_px', ', by ', ' px')}.`,
      remedy: `Lock the tripod, release the shutter without touching the camera, let the film or loop stand steady, and take ${all} again.`,
    };
  },

  'different-size': (facts, shot) => ({
    message: `The ${shot === 'closing' ? 'closing photograph and the first one' : 'two photographs'} differ in size or orientation${
      facts.left_width_px !== undefined && facts.right_width_px !== undefined
        ? `: ${facts.left_width_px} x ${facts.left_height_px} and ${facts.right_width_px} x ${facts.right_height_px} px`
        : ''
    }.`,
    remedy: 'Take both with the same camera held the same way, and crop or resize neither.',
  }),

  mirrored: (_facts, shot) => ({
    message: `${nameShot(shot)} shows the target mirrored.`,
    remedy:
      'Photograph from the audience’s side and switch off any mirror setting of the camera; if the screen itself shows it mirrored, the film is threaded with the wrong side to the lamp.',
  }),

  'upside-down': (_facts, shot) => ({
    message: `${nameShot(shot)} shows the target upside down.`,
    remedy:
      'Turn the photograph upright, or if the screen itself shows it upside down, correct the threading before measuring.',
  }),

  'too-oblique': (facts, shot) => ({
    message: `${nameShot(shot)} looks at the screen from too far aside${withNumber(facts, 'angle_deg', ': ', '°')}${withNumber(facts, 'limit_deg', ', the limit is ', '°')}.`,
    remedy: 'Set the tripod near the middle line of the house and photograph again.',
  }),

  'inconsistent-marks': (_facts, shot) => ({
    message: `${shot === null ? 'The marks' : `The marks in ${nameShot(shot).replace(/^The/, 'the')}`} do not fit one flat target of one shape.`,
    remedy:
      'Show only one target, made for this picture shape (`--aspect`), on a flat screen, and photograph it whole.',
  }),

  'invalid-house': translateInvalidHouse,
};

/** Those of a measurement, which the command line promises; those of trial turns stand apart. */
export const REFUSAL_CODES: readonly string[] = Object.keys(REFUSALS);
export const TRIAL_REFUSAL_CODES: readonly string[] = Object.keys(TRIAL_REFUSALS);

/** Throws on an unknown code: a refusal without words is a fault of the program. */
export function translateRefusal(code: string, facts: Facts, shot: RefusedShot): RefusalWords {
  const wording = REFUSALS[code] ?? TRIAL_REFUSALS[code];
  if (!wording) throw new RangeError(`no wording for the refusal "${code}"`);
  return wording(facts, shot);
}
