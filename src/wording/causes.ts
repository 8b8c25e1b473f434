/** What may be wrong, said in one sentence, what cures it, and the figures that speak for it. */
import type { ReadingCause } from '../record/reading.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from './numbers.ts';

type Facts = ReadonlyMap<string, ReadingCause['evidence'][number]>;

interface CauseWords {
  readonly cause: (facts: Facts) => string;
  readonly remedy: string;
}

function number(facts: Facts, name: string, before: string, unit: string): string {
  const item = facts.get(name);
  return typeof item?.value === 'number' ? `${before}${formatFigures(Math.abs(item.value))}${unit}` : '';
}

/** " by about 12°" where the angle is known apart from the floor, " by up to 15°" where it is not. */
function angle(facts: Facts): string {
  return (
    number(facts, 'polarizer_angle_deg', ' by about ', '°') ||
    number(facts, 'polarizer_angle_at_most_deg', ' by up to ', '°')
  );
}

/** " (upper left)", or nothing where the ghost is alike all over. */
function place(facts: Facts): string {
  const where = facts.get('place')?.value;
  return typeof where === 'string' ? ` (${where.replace('-', ' ')})` : '';
}

/** "the left-eye picture", or "one picture" when the fact is missing. */
function picture(facts: Facts, name: string): string {
  const eye = facts.get(name)?.value;
  return eye === undefined ? 'one picture' : `the ${eye}-eye picture`;
}

/** As seen from the audience. */
const SIDES: Readonly<Record<string, string>> = {
  above: 'above',
  below: 'below',
  left: 'to the left of',
  right: 'to the right of',
};

const CAUSES: Readonly<Record<string, CauseWords>> = {
  'half-frame-threading': {
    cause: (f) =>
      `The film is threaded half a frame out, so that each picture takes the other one’s path${number(f, 'half_frame_vertical_offset_pct', ' (that alone would move the pictures ', ' % apart in height)')}.`,
    remedy: 'With the machine stopped and the gate cool, thread the film two perforations further or back.',
  },
  'polarizers-exchanged': {
    cause: () => 'The two polarizers at the projector are exchanged, or both stand turned by 90°.',
    remedy: 'With the lamp out, exchange the two polarizers, or turn both by a quarter turn.',
  },
  'camera-filters-exchanged': {
    cause: () =>
      'The lenses of the glasses were exchanged or held the wrong way round before the camera, or the two photographs were put in each other’s place.',
    remedy:
      'Take the photographs again, with the glasses as a viewer wears them, the left lens for the left photograph.',
  },
  'polarizers-missing': {
    cause: () => 'The polarizers at the projector are missing or destroyed by heat.',
    remedy: 'With the lamp out and everything cool, fit new polarizers, away from the hot end of the lens.',
  },
  'polarization-kinds-mixed': {
    cause: () => 'Glasses and projector do not belong together: one is polarized linearly, the other circularly.',
    remedy: 'Use glasses of the kind of the projector’s polarizers.',
  },
  'screen-depolarizes': {
    cause: () => 'The screen does not keep the polarization: matte, painted over, dirty or of the wrong kind.',
    remedy: 'Clean the screen as its maker says; where the coating itself is the cause only a metallic screen helps.',
  },
  'screen-patch-depolarizes': {
    cause: (f) => `A place on the screen${place(f)} does not keep the polarization: a stain, a repair or worn coating.`,
    remedy: 'Have the place cleaned or recoated as the maker of the screen says.',
  },
  'camera-filters-missing': {
    cause: () => 'The photographs were taken without the glasses, or with a lens that does not polarize.',
    remedy: 'Take the photographs again, with a lens of the glasses close before the camera’s lens.',
  },
  'projector-polarizer-turned': {
    cause: (f) => `The polarizer of ${picture(f, 'polarizer_of_picture')} at the projector is turned${angle(f)}.`,
    remedy: 'With the lamp out, turn that polarizer back, then find the least ghost with photographs.',
  },
  'glasses-lens-turned': {
    cause: (f) => {
      const lens = f.get('lens')?.value;
      return `${lens === undefined ? 'A' : `The ${lens}`} lens of the glasses stood turned${angle(f)} before the camera.`;
    },
    remedy: 'Hold both lenses before the camera in their frame and level; replace glasses whose lens sits askew.',
  },
  'one-path-depolarizes': {
    cause: (f) =>
      `Something in the path of ${picture(f, 'path_of_picture')} spoils its polarization: a polarizer spoilt by heat, a strained or dirty glass, or a mirror behind the polarizer.`,
    remedy: 'With the lamp out, clean what stands behind that polarizer, then exchange the polarizer.',
  },
  'glasses-tilted': {
    cause: (f) => `The glasses were held tilted${angle(f)} before the camera.`,
    remedy: 'Hold or clamp the glasses level with the camera, and photograph again.',
  },
  'both-polarizers-turned': {
    cause: (f) => `Both polarizers at the projector are turned${angle(f)} the same way.`,
    remedy: 'With the lamp out, turn both polarizers back by the same angle, or the attachment that carries them.',
  },
  'port-glass-strained': {
    cause: () => 'The port glass is strained or dirty and spoils the polarization of both pictures.',
    remedy: 'Ease the clamps of the pane and clean it; an annealed pane, or polarizers on its far side, cure it.',
  },
  'picture-missing': {
    cause: (f) => {
      const eye = f.get('missing_picture')?.value;
      return `${eye === undefined ? 'One picture' : `The ${eye}-eye picture`} does not reach the screen: something stands in its path.`;
    },
    remedy: 'With the lamp out, follow that picture’s path from the lens over its mirrors to the port and clear it.',
  },
  'film-turned-over': {
    cause: () => 'The film runs the wrong way round: turned over, or with its foot up.',
    remedy: 'With the machine stopped, take the film out and thread it with the emulsion as the leader says.',
  },
  'photograph-mistaken': {
    cause: () =>
      'The photographs are at fault and not the projector: one lens twice, too little exposure, or a file that a program turned or mirrored.',
    remedy: 'Take both photographs again with the same exposure, and use the files as the camera wrote them.',
  },
  'nothing-broken': {
    cause: () =>
      'Perhaps nothing is broken: this screen, these polarizers and these glasses may simply be no better together.',
    remedy: 'Compare with an earlier reading of this house that was found good.',
  },
  'stray-image': {
    cause: (f) => {
      const over = number(
        f,
        'stray_over_pct',
        ', and lies over the picture for ',
        ' % of its height from that edge on',
      );
      const side = SIDES[String(f.get('stray_side')?.value)] ?? 'beside';
      return `The attachment throws a stray copy of ${picture(f, 'copy_of_picture')} ${side} the picture: it reaches${number(f, 'stray_beyond_pct', ' ', ' % of the picture height')} beyond the edge${over}.`;
    },
    remedy:
      'With the lamp out and the attachment cool, bring a mask into its centre from the stray’s side, only as far as the stray goes; then photograph again: the picture itself must not have grown darker.',
  },
  'path-lengths-differ': {
    cause: (f) =>
      `The two paths through the attachment differ in length${number(f, 'path_difference_mm', ', by about ', ' mm')}.`,
    remedy: 'With the lamp out, set the mirrors of both paths for equal length.',
  },
  'mirror-not-flat': {
    cause: () => 'A mirror of the attachment is not flat.',
    remedy: 'With the lamp out, ease the mirror’s clamps; exchange the mirror where that does not help.',
  },
  'lens-elements-differ': {
    cause: () => 'The two halves of the lens, or the lenses of the two paths, differ in focal length.',
    remedy: 'Use a matched pair of lenses.',
  },
  'mirror-strained': {
    cause: () => 'A mirror is bent by its clamps and stretches or shears its picture.',
    remedy: 'With the lamp out and everything cool, ease the mirror’s clamps until it lies without force.',
  },
  'attachment-off-axis': {
    cause: () => 'The attachment does not stand square on the lens axis, which gives the pictures opposite keystone.',
    remedy: 'With the lamp out, seat the attachment anew, square on the lens.',
  },
};

export const CAUSE_CODES: readonly string[] = Object.keys(CAUSES);

function wordsOf(code: string): CauseWords {
  const words = CAUSES[code];
  if (!words) throw new RangeError(`no wording for the cause "${code}"`);
  return words;
}

/** Throws on an unknown code, as `translateRefusal` does. */
export function translateCause({ code, evidence }: Pick<ReadingCause, 'code' | 'evidence'>): string {
  return wordsOf(code).cause(new Map(evidence.map((item) => [item.name, item])));
}

export function translateRemedy(code: string): string {
  return wordsOf(code).remedy;
}

/** "83 %", never as certain as 0 or 100; null for readings without it. */
/** Says of a group that it is one; two faults at once are reckoned with too, so that the chances may add up to more than 100 %. */
export const ONE_OF_THESE = 'One of these, rarely two of them; what was measured does not tell which:';

export function formatProbability({ probability }: Pick<ReadingCause, 'probability'>): string | null {
  if (probability === undefined) return null;
  if (probability > 0.99) return 'over 99 %';
  return probability < 0.01 ? 'under 1 %' : `${Math.round(100 * probability)} %`;
}

const UNIT_WORDS: Readonly<Record<string, string>> = { pct: ' %', deg: '°', mm: ' mm', arcmin: ' arcmin' };

const EVIDENCE: Readonly<Record<string, string>> = {
  leak_left_lens_pct: 'ghost through the left lens',
  leak_right_lens_pct: 'ghost through the right lens',
  leak_where_strongest_pct: 'ghost where it is strongest',
  crosstalk_left_pct: 'right-eye over left-eye picture through the left lens',
  crosstalk_right_pct: 'left-eye over right-eye picture through the right lens',
  vertical_offset_pct: 'vertical offset found',
  half_frame_vertical_offset_pct: 'vertical offset that half a frame would make',
  polarizer_angle_deg: 'angle that would explain it',
  polarizer_angle_at_most_deg: 'angle that would explain it, at most',
  stray_strength_pct: 'strength of the copy',
  stray_beyond_pct: 'beyond the picture, of its height',
  stray_over_pct: 'over the picture, of its height',
  size_pct: 'size difference',
  path_difference_mm: 'difference in path that would explain it',
  stretch_pct: 'stretch',
  shear_pct: 'shear',
  keystone_h_pct: 'keystone, sideways',
  keystone_v_pct: 'keystone, upright',
};

export const EVIDENCE_NAMES: readonly string[] = Object.keys(EVIDENCE);

/** "ghost through the left lens: 1.9 %"; null for words that the cause's sentence has already said. */
export function formatEvidence({ name, value, u }: ReadingCause['evidence'][number]): string | null {
  if (typeof value === 'string') return null;
  const unit = UNIT_WORDS[name.split('_').at(-1) ?? ''] ?? '';
  const decimals = decimalsForUncertainty(u ?? 0);
  const number =
    u === undefined ? formatFigures(value) : `${formatNumber(value, decimals)} ± ${formatNumber(2 * u, decimals)}`;
  return `${EVIDENCE[name] ?? name.replaceAll('_', ' ')}: ${number}${unit}`;
}
