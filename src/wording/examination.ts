/**
 * One photograph judged by itself: one sentence, and one remedy where something might be better. Numbers come from the
 * facts; where one is missing the sentence does without it.
 */
import { type Facts, type RefusedShot, withNumber } from './facts.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from './numbers.ts';
import { translateRefusal } from './refusals.ts';

/** What the engine says of a photograph, as far as it is put in words. */
export type JudgedExamination =
  | { readonly outcome: 'usable'; readonly code: string; readonly facts: Facts; readonly shows: Shown }
  | { readonly outcome: 'refused'; readonly code: string; readonly facts: Facts };
type Shown = 'left' | 'right' | 'both';

/** What is added to the examination; a refused one always has a remedy. */
export interface ExaminationWords {
  readonly message: string;
  readonly remedy: string | null;
}

type Wording = (facts: Facts, shows: Shown) => ExaminationWords;

const PICTURE: Readonly<Record<Shown, string>> = {
  left: 'the left-eye picture',
  right: 'the right-eye picture',
  both: 'the pictures of both eyes',
};

const EXAMINATIONS: Readonly<Record<string, Wording>> = {
  good: (facts, shows) => ({
    message: `Sharp and well exposed, it shows ${PICTURE[shows]}${countMarks(facts)}.`,
    remedy: null,
  }),

  'both-eyes': (facts) => ({
    message: `Sharp and well exposed, but it shows the pictures of both eyes alike${countMarks(facts)}.`,
    remedy:
      'See that one lens of the glasses covers the whole camera lens and is not turned; if it does, the light is not polarized, and measuring will say so.',
  }),

  'both-pictures': (facts) => ({
    message: `Both pictures are on the screen; ${formatShare(facts)}.`,
    remedy: null,
  }),

  'one-picture': (facts) => ({
    message:
      facts.share_pct === undefined
        ? `The ${facts.weaker ?? 'other'}-eye picture is missing, or far fainter than its neighbour.`
        : `The pictures are far from equally bright: ${formatShare(facts)}.`,
    remedy:
      'Take the glasses away from the camera for this photograph; if they are away, see whether something stands in that picture’s path.',
  }),

  bright: (facts, shows) => ({
    message: `It shows ${PICTURE[shows]}, but ${withNumber(facts, 'clipped', '', facts.clipped === 1 ? ' mark is' : ' marks are') || 'some marks are'} burnt out, which leaves the ghost less certain.`,
    remedy: 'Set the exposure by hand half a stop to one stop lower, the same for all photographs.',
  }),

  dim: (facts, shows) => ({
    message: `It shows ${PICTURE[shows]}, but is dim${withNumber(facts, 'light_pct', ': its marks reach ', ' % of full light')}, so that a faint ghost may be lost.`,
    remedy: 'Set a longer exposure by hand, the same for all photographs; the marks should come near to white.',
  }),

  soft: (facts, shows) => ({
    message: `It shows ${PICTURE[shows]}, but is a little soft${withNumber(facts, 'blur_px', ': the edges are ', ' px wide')}.`,
    remedy:
      'Focus the camera on the screen by hand and release with the self-timer; see that the projector is in focus.',
  }),

  'few-marks': (facts, shows) => ({
    message: `It shows ${PICTURE[shows]}, but not all of it${countMarks(facts)}.`,
    remedy: 'Take the whole picture into the frame, and clear heads, masking and reflections out of it.',
  }),

  small: (facts, shows) => ({
    message: `It shows ${PICTURE[shows]}, but small${withNumber(facts, 'height_px', ': ', ' px high', 3)}, so that a small movement of the camera would go unnoticed.`,
    remedy: 'Zoom in or come nearer until the picture fills most of the photograph.',
  }),

  oblique: (facts, shows) => ({
    message: `It shows ${PICTURE[shows]} from far aside${withNumber(facts, 'angle_deg', ': ', '°')}.`,
    remedy: 'Set the tripod nearer to the middle line of the house.',
  }),
};

export const EXAMINATION_CODES: readonly string[] = Object.keys(EXAMINATIONS);

/** Throws RangeError on an unknown code: that is a fault of the program. */
export function translateExamination(examination: JudgedExamination, shot: RefusedShot): ExaminationWords {
  const { code, facts } = examination;
  if (examination.outcome === 'refused') return translateRefusal(code, facts, shot);
  const wording = EXAMINATIONS[code];
  if (!wording) throw new RangeError(`no wording for the examination "${code}"`);
  return wording(facts, examination.shows);
}

function formatShare({ weaker, share_pct, share_u_pct }: Facts): string {
  const picture = weaker === undefined ? 'one of them' : `the ${weaker}-eye picture`;
  if (typeof share_pct !== 'number') return `${picture} has less light than the other one`;
  if (typeof share_u_pct !== 'number')
    return `${picture} has ${formatFigures(share_pct)} % of the light of the other one`;
  const decimals = decimalsForUncertainty(share_u_pct);
  const share = `${formatNumber(share_pct, decimals)} ± ${formatNumber(2 * share_u_pct, decimals)} %`;
  return `${picture} has ${share} of the light of the other one`;
}

function countMarks({ found, expected }: Facts): string {
  return found === undefined || expected === undefined ? '' : `: ${found} of ${expected} marks`;
}
