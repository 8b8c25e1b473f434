/** The checks that tell causes apart: what to do, and what can come of it. */

interface CheckWords {
  readonly check: string;
  /** By the answer's code; the first is the usual one. */
  readonly answers: Readonly<Record<string, string>>;
}

const GHOST = { 'ghost-stays': 'the ghost stays', 'ghost-goes': 'the ghost goes' };

const CHECKS: Readonly<Record<string, CheckWords>> = {
  'look-at-screen-without-glasses': {
    check: 'Look at the screen without glasses: both pictures must be there, upright, with writing that reads right.',
    answers: {
      'both-pictures-upright': 'both are there and read right',
      'one-picture-only': 'only one picture is there',
      mirrored: 'the writing is mirrored',
      'upside-down': 'the pictures stand on their heads',
    },
  },
  'look-where-the-ghost-is': {
    check:
      'From a seat, close one eye and then the other, and look through the glasses where over the picture the ghost is strongest.',
    answers: {
      'alike-everywhere': 'alike everywhere',
      'in-one-place': 'in one place, the same for both eyes',
      'growing-to-the-sides': 'growing towards a side or the ends',
    },
  },
  'roll-glasses-both-ways': {
    check:
      'Roll the glasses before the camera by ten degrees one way and then the other, with a photograph through each lens each time: see where each lens shows its least ghost.',
    answers: {
      'least-as-they-are': 'least ghost with the glasses as they were',
      'least-elsewhere-for-both': 'least ghost turned, for both lenses the same way',
      'least-elsewhere-for-one': 'least ghost turned, for one lens only',
      'never-changes': 'nothing changes',
    },
  },
  'level-the-glasses': {
    check: 'Set the glasses level with a spirit level, the camera too, and photograph again through both lenses.',
    answers: GHOST,
  },
  'repeat-with-known-glasses': {
    check:
      'Photograph again through another pair of glasses that is known to be good and of the right kind, worn side towards the camera, left lens first.',
    answers: { 'as-before': 'the same as before', 'right-then': 'right with the other glasses' },
  },
  'inspect-camera-filters': {
    check:
      'Look through both lenses of the glasses, one behind the other and turned by 90°, at a lit wall: they must go dark.',
    answers: { 'they-go-dark': 'they go dark', 'they-stay-bright': 'they stay bright' },
  },
  'look-through-glasses-backwards': {
    check: 'From a seat, look at the screen through the glasses held the wrong way round, front side to your eyes.',
    answers: { 'no-better': 'no better', 'pictures-part': 'the pictures part as they should' },
  },
  'look-at-ports-through-glasses': {
    check:
      'Have one port of the attachment covered with a card and look at the screen, not at the port, through the glasses: the picture that remains must look dark to the eye that the other port serves; then the other port.',
    answers: {
      'dark-to-the-other-eye': 'each is dark to the other eye, as it should be',
      'dark-to-its-own-eye': 'each is dark to its own eye',
      'one-dark-to-neither': 'one is dark to neither eye',
      'both-dark-to-neither': 'both are dark to neither eye',
    },
  },
  'turn-projector-polarizer': {
    check:
      'Turn the polarizer at the projector a little (both, one after the other, where both are meant) and photograph again: the ghost must go through a least value.',
    answers: {
      'least-where-it-stands': 'least ghost where it stands',
      'least-elsewhere-for-both': 'least ghost turned, for both the same way',
      'least-elsewhere-for-one': 'least ghost turned, for one only',
    },
  },
  'look-at-film-in-gate': {
    check:
      'With the machine stopped, the lamp out and the gate cool, look at the film in the gate: the emulsion must face as the leader says, the pictures’ feet up.',
    answers: { 'as-the-leader-says': 'as it should be', 'turned-over': 'turned over, or with its foot the wrong way' },
  },
  'look-at-frame-line-in-gate': {
    check:
      'With the machine stopped, the lamp out and the gate cool, look at the film in the gate: the septum, not the frame line, must stand in the middle of the aperture.',
    answers: {
      'septum-in-the-middle': 'the septum is in the middle',
      'frame-line-in-the-middle': 'the frame line is in the middle',
    },
  },
  'compare-with-port-glass-open': {
    check:
      'Photograph once with the port glass taken out or swung aside, if the house’s rules allow it: if the ghost goes, the glass is the cause.',
    answers: GHOST,
  },
  'hold-metal-sheet-at-screen': {
    check:
      'Hold a piece of bare metal or known good metallic screen before the screen and photograph it through the glasses: if the ghost goes there, the screen is the cause.',
    answers: GHOST,
  },
  'measure-path-lengths': {
    check: 'With the lamp out, measure both paths from lens to port with a rule: mirrors must be set for equal length.',
    answers: { 'paths-alike': 'both paths are alike', 'paths-differ': 'the paths differ' },
  },
  'loosen-mirror-clamps': {
    check:
      'With the lamp out and everything cool, loosen the clamps of one mirror at a time by a little and photograph again: if the shape changes, the clamps bend it.',
    answers: { 'shape-stays': 'the shape stays', 'shape-changes': 'the shape changes' },
  },
  'compare-lens-focal-lengths': {
    check:
      'Measure the picture width of each eye alone on the screen and compare: a difference without the attachment’s mirrors comes from the lens.',
    answers: { 'widths-alike': 'both widths are alike', 'widths-differ': 'the widths differ' },
  },
  'measure-attachment-squareness': {
    check: 'With the lamp out, check with a square that the attachment stands at right angles to the lens axis.',
    answers: { square: 'it is square', 'not-square': 'it is not square' },
  },
  'watch-stray-while-masking': {
    check:
      'While one person brings a card into the centre of the attachment by a little at a time, from the side and with the beam dowsed for each move, another watches the screen: the stray must darken first, the picture not at all.',
    answers: {
      'stray-darkens-first': 'the stray darkens first',
      'picture-darkens-too': 'the picture darkens with it',
      'stray-stays': 'the stray stays',
    },
  },
};

export const CHECK_CODES: readonly string[] = Object.keys(CHECKS);

function wordsOf(code: string): CheckWords {
  const words = CHECKS[code];
  if (!words) throw new RangeError(`no wording for the check "${code}"`);
  return words;
}

/** Throws on an unknown code, as `translateRefusal` does. */
export function translateCheck(code: string): string {
  return wordsOf(code).check;
}

/** The answers that a check can have: code and words, the usual one first. */
export function listAnswers(code: string): { readonly answer: string; readonly words: string }[] {
  return Object.entries(wordsOf(code).answers).map(([answer, words]) => ({ answer, words }));
}

export interface AnsweredCheck {
  readonly check: string;
  readonly answer: string;
}

/** What a check has shown; the answer's code itself where this version knows no words for it. */
export function translateAnswer({ check, answer }: AnsweredCheck): string {
  return listAnswers(check).find((known) => known.answer === answer)?.words ?? answer;
}

/** Where a check sends people; the table of the findings has the same. */
const HAZARDS_OF_CHECKS: Readonly<Record<string, readonly string[]>> = {
  'look-at-ports-through-glasses': ['port'],
  'turn-projector-polarizer': ['projector', 'port'],
  'look-at-film-in-gate': ['projector', 'film'],
  'look-at-frame-line-in-gate': ['projector', 'film'],
  'compare-with-port-glass-open': ['port', 'ladder'],
  'hold-metal-sheet-at-screen': ['ladder'],
  'measure-path-lengths': ['projector', 'port'],
  'loosen-mirror-clamps': ['projector', 'port'],
  'compare-lens-focal-lengths': ['projector', 'port'],
  'measure-attachment-squareness': ['projector', 'port'],
  'watch-stray-while-masking': ['projector', 'port'],
};

export function hazardsOfCheck(code: string): readonly string[] {
  return HAZARDS_OF_CHECKS[code] ?? [];
}
