/** Evenness of light in words: the sentence, what is to be borne in mind, the hot spot. */
import type {
  EvennessPicture,
  EvennessRecord,
  UnwordedEvenness,
  UnwordedMeasuredEvenness,
} from '../record/evenness.ts';
import { chooseCautions } from './cautions.ts';
import { LAMP_CAUTION } from './lamp-caution.ts';
import { nameLitPicture, namePlace, worstLightFinding } from './light.ts';
import { translateLightRefusal } from './light-refusals.ts';
import { formatFigures, formatNumber } from './numbers.ts';

interface Note {
  readonly message: string;
  readonly remedy: string | null;
}

const NOTES: Readonly<Record<string, Note>> = {
  'gain-depends-on-seat': {
    message:
      'This is the light that comes to the camera’s seat: lamp, lens and screen together. A metallic screen sends most light one way, so that the hot spot moves with the seat.',
    remedy:
      'Photograph once more from the other side of the house: what moves with the camera is the screen, what stays is lamp or lens.',
  },
  'vignetting-assumed': {
    message:
      'What the camera’s own lens takes from the corners is not known; it was assumed, and the uncertainties are widened for it.',
    remedy:
      'Photograph an evenly lit surface with the same zoom, stop and focus, or the same picture with the camera panned.',
  },
  'coarse-surface': {
    message: 'Few places could be measured, so that only a simple surface was laid through them.',
    remedy: 'Take the whole picture into the frame, in focus, with nothing burnt out.',
  },
  'hot-spot-at-edge': {
    message: 'The light rises up to the edge of the picture: the brightest place may lie beyond it.',
    remedy: 'Photograph from nearer to the middle of the house.',
  },
  'exposure-differs': {
    message: 'The photographs were not exposed alike, so that the eyes cannot be compared.',
    remedy: 'Set time, stop and sensitivity by hand and take all photographs again.',
  },
  'exposure-unknown': {
    message: 'The files do not tell how they were exposed; the eyes are compared as if they were exposed alike.',
    remedy: 'Set time, stop and sensitivity by hand, and give the camera’s own files.',
  },
  'tone-curve-bent': {
    message: 'The camera bends the tones of its photographs, and the uncertainties are widened for it.',
    remedy: 'Set the camera to its plainest picture style, or develop the raw file without a curve.',
  },
  'tone-curve-unknown': {
    message: 'Nothing tells how the camera bends its tones, and the uncertainties are widened for it.',
    remedy: 'Photograph the target, whose grey steps tell it, or develop the raw file without a curve.',
  },
  'stray-light': {
    message: 'There is light beside the picture that may lie over it too; the uncertainties are widened for it.',
    remedy: 'Switch the house lights off and clean the camera’s lens.',
  },
  'meter-unused': {
    message: 'The reading of the meter belongs to a picture that was not measured, so that there is no luminance.',
    remedy: 'Say of which picture it was read (on the command line with --meter-of).',
  },
};

export const EVENNESS_NOTE_CODES: readonly string[] = Object.keys(NOTES);

/** Throws RangeError on a code without wording: that is a fault of the program. */
export function translateEvenness(unworded: UnwordedEvenness): EvennessRecord {
  if (unworded.outcome === 'refused') {
    const { code, facts, shot, file } = unworded.refusal;
    return { ...unworded, refusal: { code, ...translateLightRefusal(code, facts, shot), shot, file, facts } };
  }
  return {
    ...unworded,
    sentence: composeEvennessSentence(unworded),
    notes: unworded.notes.map(({ code }) => ({ code, ...translateEvennessNote(code) })),
    cautions: [...chooseCautions({ atProjector: true, atHeight: false }), LAMP_CAUTION],
  };
}

export function translateEvennessNote(code: string): Note {
  const note = NOTES[code];
  if (!note) throw new RangeError(`no wording for the note "${code}"`);
  return note;
}

/** The darkest edge first, then the eyes where they differ by more than what is asked, or surely by 3 %. */
function composeEvennessSentence({ findings, pictures, balance }: UnwordedMeasuredEvenness): string {
  const edge = worstLightFinding(findings, 'edge-film')!;
  const of = pictures.length > 1 && edge.picture !== null ? ` of the ${nameLitPicture(edge.picture)}` : '';
  const part = `the ${namePlace(edge.place!)}${of} has ${formatFigures(edge.value)} % of the centre’s light`;
  const words = {
    within: `The light is even enough: ${part}, and ${edge.limit} % is asked.`,
    outside: `The light is uneven: ${part}, and at least ${edge.limit} % is asked.`,
    undecided: `Whether the light is even enough is too close to tell: ${part}, and ${edge.limit} % is asked.`,
  }[edge.verdict];
  return `${words}${balance ? formatBalance(balance.right_over_left_pct, findings) : ''}`;
}

/** From here on a difference between the eyes is worth the sentence, where it is sure: percent. */
const TOLD_DIFFERENCE = 3;

function formatBalance(ratio: { value: number; u: number }, findings: UnwordedMeasuredEvenness['findings']): string {
  const off = ratio.value - 100;
  const verdict = worstLightFinding(findings, 'balance-comfort')?.verdict;
  if (Math.abs(off) < TOLD_DIFFERENCE || Math.abs(off) < 2 * ratio.u) return ' Both eyes get the same light.';
  const [darker, brighter] = off < 0 ? ['right', 'left'] : ['left', 'right'];
  const share = off < 0 ? ratio.value : 10_000 / ratio.value;
  const judged = verdict === 'outside' ? ', which is too little' : '';
  return ` The ${darker} eye gets ${formatFigures(share)} % of the ${brighter} eye’s light${judged}.`;
}

const DIRECTIONS = [
  'to the right',
  'up and to the right',
  'up',
  'up and to the left',
  'to the left',
  'down and to the left',
  'down',
  'down and to the right',
] as const;

/** Nearer than this to the centre a hot spot stands in it. */
const IN_THE_CENTRE_IH = 0.03;
const SURE_DEVIATIONS = 2;

/** "112 % of the centre’s light, 0.31 picture heights up and to the right of it". */
export function formatHotSpot({
  of_centre_pct,
  distance_ih,
  direction_deg,
  significance,
  u_ih,
}: EvennessPicture['hot_spot']) {
  if (distance_ih < IN_THE_CENTRE_IH || significance < SURE_DEVIATIONS) {
    return 'The brightest place is the centre, or as bright as it.';
  }
  const direction = DIRECTIONS[(Math.round(direction_deg / 45) + 8) % 8];
  const edge = u_ih === null ? ', at the edge of the picture' : '';
  return `The brightest place has ${formatNumber(of_centre_pct.value, 0)} % of the centre’s light and lies ${formatFigures(distance_ih)} picture heights from the centre, ${direction}${edge}.`;
}
