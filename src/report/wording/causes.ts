/** What may be wrong, said in one sentence, and the one check that separates it from the other causes. */
import type { ReadingCause } from '../../record/reading.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from './numbers.ts';

type Facts = ReadonlyMap<string, ReadingCause['evidence'][number]>;
type CauseWording = (facts: Facts) => string;

function number(facts: Facts, name: string, before: string, unit: string): string {
  const item = facts.get(name);
  return typeof item?.value === 'number' ? `${before}${formatFigures(Math.abs(item.value))}${unit}` : '';
}

/** "the left-eye picture", or "one picture" when the fact is missing. */
function picture(facts: Facts, name: string): string {
  const eye = facts.get(name)?.value;
  return eye === undefined ? 'one picture' : `the ${eye}-eye picture`;
}

const CAUSES: Readonly<Record<string, CauseWording>> = {
  'half-frame-threading': (f) =>
    `The film is threaded half a frame out, so that each picture takes the other one’s path${number(f, 'half_frame_vertical_offset_pct', ' (that alone would move the pictures ', ' % apart in height)')}.`,
  'polarizers-exchanged': () => 'The two polarizers at the projector are exchanged, or both stand turned by 90°.',
  'camera-filters-exchanged': () =>
    'The lenses of the glasses were exchanged, or held the wrong way round, when the photographs were taken.',
  'polarizers-missing': () => 'A polarizer at the projector is missing or destroyed by heat.',
  'screen-depolarizes': () =>
    'The screen does not keep the polarization: matte, painted over, dirty or of the wrong kind.',
  'camera-filters-missing': () =>
    'The photographs were taken without the glasses, or with a lens that does not polarize.',
  'projector-polarizer-turned': (f) =>
    `The polarizer of ${picture(f, 'polarizer_of_picture')} at the projector is turned${number(f, 'polarizer_angle_deg', ' by up to ', '°')}.`,
  'glasses-lens-turned': (f) =>
    `The ${f.get('lens')?.value ?? ''} lens of the glasses stood turned${number(f, 'polarizer_angle_deg', ' by up to ', '°')} before the camera.`.replace(
      '  ',
      ' ',
    ),
  'one-path-depolarizes': (f) =>
    `Something in the path of ${picture(f, 'path_of_picture')} spoils its polarization: a strained or dirty glass, or a mirror behind the polarizer.`,
  'glasses-tilted': (f) =>
    `The glasses were held tilted${number(f, 'polarizer_angle_deg', ' by up to ', '°')} before the camera.`,
  'both-polarizers-turned': (f) =>
    `Both polarizers at the projector are turned${number(f, 'polarizer_angle_deg', ' by up to ', '°')} the same way.`,
  'port-glass-strained': () => 'The port glass is strained and turns the polarization of both pictures.',
  'path-lengths-differ': (f) =>
    `The two paths through the attachment differ in length${number(f, 'path_difference_mm', ', by about ', ' mm')}.`,
  'mirror-not-flat': () => 'A mirror of the attachment is not flat.',
  'lens-elements-differ': () => 'The two halves of the lens, or the lenses of the two paths, differ in focal length.',
  'mirror-strained': () => 'A mirror is bent by its clamps and stretches or shears its picture.',
  'attachment-off-axis': () =>
    'The attachment does not stand square on the lens axis, which gives the pictures opposite keystone.',
};

const CHECKS: Readonly<Record<string, string>> = {
  'look-at-frame-line-in-gate':
    'With the machine stopped, the lamp out and the gate cool, look at the film in the gate: the septum, not the frame line, must stand in the middle of the aperture.',
  'look-at-ports-through-glasses':
    'Have one port of the attachment covered with a card and look at the screen, not at the port, through the glasses: the picture that remains must look dark to the other eye.',
  'repeat-with-filters-exchanged':
    'Take both photographs again with the lenses of the glasses exchanged: if the eyes are then right, only the glasses were wrong.',
  'inspect-camera-filters':
    'Look through both lenses of the glasses, one behind the other and turned by 90°, at a lit wall: they must go dark.',
  'hold-metal-sheet-at-screen':
    'Hold a piece of bare metal or known good metallic screen before the screen and photograph it through the glasses: if the ghost goes there, the screen is the cause.',
  'turn-projector-polarizer':
    'Turn the polarizer at the projector a little (both, one after the other, where both are meant) and photograph again: the ghost must go through a least value.',
  'turn-camera-filter':
    'Turn the glasses before the camera by a few degrees both ways and photograph again: if the ghost goes, the glasses stood askew.',
  'compare-with-port-glass-open':
    'Photograph once with the port glass taken out or swung aside, if the house’s rules allow it: if the ghost goes, the glass is the cause.',
  'measure-path-lengths':
    'With the lamp out, measure both paths from lens to port with a rule: mirrors must be set for equal length.',
  'loosen-mirror-clamps':
    'With the lamp out and everything cool, loosen the clamps of one mirror at a time by a little and photograph again: if the shape changes, the clamps bend it.',
  'compare-lens-focal-lengths':
    'Measure the picture width of each eye alone on the screen and compare: a difference without the attachment’s mirrors comes from the lens.',
  'measure-attachment-squareness':
    'With the lamp out, check with a square that the attachment stands at right angles to the lens axis.',
};

export const CAUSE_CODES: readonly string[] = Object.keys(CAUSES);
export const CHECK_CODES: readonly string[] = Object.keys(CHECKS);

/** Throws on an unknown code, as `wordRefusal` does. */
export function wordCause({ code, evidence }: Pick<ReadingCause, 'code' | 'evidence'>): string {
  const wording = CAUSES[code];
  if (!wording) throw new RangeError(`no wording for the cause "${code}"`);
  return wording(new Map(evidence.map((item) => [item.name, item])));
}

export function wordCheck(code: string): string {
  const words = CHECKS[code];
  if (!words) throw new RangeError(`no wording for the check "${code}"`);
  return words;
}

/** Checks that send someone up to the screen or the port. */
export const CHECKS_AT_HEIGHT: ReadonlySet<string> = new Set([
  'hold-metal-sheet-at-screen',
  'compare-with-port-glass-open',
]);

const UNIT_WORDS: Readonly<Record<string, string>> = { pct: ' %', deg: '°', mm: ' mm', arcmin: ' arcmin' };

const EVIDENCE: Readonly<Record<string, string>> = {
  leak_left_lens_pct: 'ghost through the left lens',
  leak_right_lens_pct: 'ghost through the right lens',
  crosstalk_left_pct: 'right-eye over left-eye picture through the left lens',
  crosstalk_right_pct: 'left-eye over right-eye picture through the right lens',
  vertical_offset_pct: 'vertical offset found',
  half_frame_vertical_offset_pct: 'vertical offset that half a frame would make',
  polarizer_angle_deg: 'angle that would explain it, at most',
  size_pct: 'size difference',
  path_difference_mm: 'difference in path that would explain it',
  stretch_pct: 'stretch',
  shear_pct: 'shear',
  keystone_h_pct: 'keystone, sideways',
  keystone_v_pct: 'keystone, upright',
};

export const EVIDENCE_NAMES: readonly string[] = Object.keys(EVIDENCE);

/** "ghost through the left lens: 1.9 %"; null for words that the cause's sentence has already said. */
export function wordEvidence({ name, value, u }: ReadingCause['evidence'][number]): string | null {
  if (typeof value === 'string') return null;
  const unit = UNIT_WORDS[name.split('_').at(-1) ?? ''] ?? '';
  const decimals = decimalsForUncertainty(u ?? 0);
  const number =
    u === undefined ? formatFigures(value) : `${formatNumber(value, decimals)} ± ${formatNumber(2 * u, decimals)}`;
  return `${EVIDENCE[name] ?? name.replaceAll('_', ' ')}: ${number}${unit}`;
}
