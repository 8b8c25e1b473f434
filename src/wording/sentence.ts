/**
 * The one sentence for the operator: what is wrong with the largest consequence, and what to do now.
 * Order of urgency: lost polarization, exchanged eyes, geometry, ghost, nothing.
 */
import type { ReadingFinding, UnwordedMeasured } from '../record/reading.ts';
import type { ReportedField } from '../record/term-fields.ts';
import { describeFinding, mostSevereByCode, severityOf } from './findings.ts';
import { formatFigures, formatTurnAmount } from './numbers.ts';
import { formatAmount, formatPlace, describeTerm } from './terms.ts';
import { shortenLabel, formatTurnShortly } from './turns.ts';

const GHOSTS: ReadonlySet<string> = new Set(['crosstalk-left', 'crosstalk-right', 'local-ghost']);
/** More turns than this are left to the list. */
const MOST_TURNS = 3;

export function composeSentence(reading: UnwordedMeasured): string {
  const findings = mostSevereByCode(reading.findings.filter(({ level }) => level === 'working'));
  const isOutside = (code: string) => reading.findings.some((f) => f.code === code && f.verdict === 'outside');

  if (isOutside('no-polarization')) {
    return 'Both eyes see both pictures: the polarization is lost. Find out where before touching a screw.';
  }
  if (reading.eyes.assignment === 'swapped') {
    return reading.causes[0]?.code === 'half-frame-threading'
      ? 'The eyes are exchanged: the film looks threaded half a frame out. Check the frame line in the gate before touching a screw.'
      : 'The eyes are exchanged: each eye sees the other one’s picture. Check polarizers, glasses and threading before touching a screw.';
  }

  const geometry = findings.filter(({ code }) => describeFinding(code).field !== null);
  const ghost = findings.filter(({ code, verdict }) => GHOSTS.has(code) && verdict === 'outside');
  const outside = geometry.filter(({ verdict }) => verdict === 'outside');
  if (outside.length > 0)
    return `Right-eye picture ${formatFaults(outside, reading)}. ${formatAction(reading, outside, ghost)}`;

  const undecided = geometry.filter(({ verdict }) => verdict === 'undecided');
  if (undecided.length > 0) {
    const action =
      reading.turns.length > 0
        ? formatAction(reading, undecided, ghost)
        : 'Take both photographs again, sharper and with the picture larger in the frame.';
    return `Too close to the limit to tell: right-eye picture ${formatFaults(undecided, reading)}. ${action}`;
  }
  if (ghost.length > 0) {
    return `The pictures lie inside tolerance, but there is ${formatGhost(ghost)}. No screw cures that: go through the causes in their order.`;
  }
  const stray = reading.strays?.[0];
  if (stray && isOutside('stray-image')) {
    const where = { above: 'above', below: 'below', left: 'to the left of', right: 'to the right of' }[stray.side];
    return `The pictures lie inside tolerance, but a stray copy of ${formatFigures(stray.strength_pct.value)} % stands ${where} the picture. No screw cures that: mask it as the causes say.`;
  }
  if (reading.eyes.assignment === 'undetermined') {
    return 'The pictures lie inside tolerance, but nothing tells the eyes apart. Check polarizers, glasses and screen.';
  }
  return 'Inside tolerance: leave it.';
}

/** The one or two faults with the largest consequence. The worst place is named only when nothing else explains it. */
function formatFaults(findings: readonly ReadingFinding[], reading: UnwordedMeasured): string {
  const explained = findings.filter(({ code }) => code !== 'worst-vertical');
  const named = (explained.length > 0 ? explained : findings)
    .toSorted((a, b) => severityOf(b) - severityOf(a))
    .slice(0, 2)
    .map(({ code }) => {
      const field = describeFinding(code).field as ReportedField;
      const { value } = reading.misalignment[field];
      const place =
        field === 'worst_vertical_pct'
          ? ` (${formatPlace(reading.misalignment.worst_vertical_pct.at, reading.house.aspect)})`
          : '';
      return `${describeTerm(field, value)}${place}`;
    });
  return named.join(' and ');
}

function formatAction(
  reading: UnwordedMeasured,
  outside: readonly ReadingFinding[],
  ghost: readonly ReadingFinding[],
): string {
  const { turns, trial_turns, incurable } = reading;
  if (turns.length > 0) {
    const inOrder = turns.toSorted((a, b) => a.order - b.order);
    const named = inOrder
      .slice(0, MOST_TURNS)
      .map((turn, i) => (i === 0 ? formatTurnShortly(turn) : lowerFirst(formatTurnShortly(turn))));
    const more = inOrder.length > MOST_TURNS ? `; ${inOrder.length - MOST_TURNS} more in the list` : '';
    return `${named.join('; ')}${more}; ${formatEnd(reading, ghost)}`;
  }
  const trial = trial_turns.toSorted((a, b) => a.order - b.order)[0];
  if (trial) {
    return `What the screws do is not known yet: turn the ${lowerFirst(shortenLabel(trial.label))} ${formatTurnAmount(trial.turns)} ${trial.direction}, and photograph again.`;
  }
  if (incurable.length > 0) return 'No screw cures it: see what to look at instead.';
  return formatMotion(reading, outside);
}

function formatEnd(reading: UnwordedMeasured, ghost: readonly ReadingFinding[]): string {
  if (!isPredictedInside(reading)) {
    return `then photograph again${reading.incurable.length > 0 ? '; the rest is nothing that a screw cures' : ''}.`;
  }
  if (ghost.length > 0) return `then the pictures are inside tolerance, but there is ${formatGhost(ghost)}.`;
  return 'then you are inside tolerance.';
}

/**
 * Whether every judged term lies inside its working limit after the turns. Angles at a seat are proportional to the
 * displacement to better than 1 in 10 000 here, so the found value is scaled by predicted over present term.
 */
export function isPredictedInside({ findings, misalignment, predicted_after }: UnwordedMeasured): boolean {
  return findings.every((finding) => {
    const { field } = describeFinding(finding.code);
    if (finding.level !== 'working' || field === null) return true;
    const present = misalignment[field].value;
    if (present === 0) return finding.verdict === 'within';
    return Math.abs((finding.value * predicted_after[field]) / present) <= finding.limit;
  });
}

function formatGhost(ghost: readonly ReadingFinding[]): string {
  const local = ghost.find(({ code }) => code === 'local-ghost');
  if (local) return `a ghost of up to ${formatFigures(local.value)} % in a part of the picture`;
  const worst = ghost.toSorted((a, b) => b.value - a.value)[0]!;
  const lens = worst.code === 'crosstalk-left' ? 'left' : 'right';
  return ghost.length > 1
    ? `a ghost through both lenses (up to ${formatFigures(worst.value)} %)`
    : `a ghost of ${formatFigures(worst.value)} % through the ${lens} lens`;
}

/** How the right-eye picture has to go against the left-eye picture, for a house whose adjustments are not described. */
function formatMotion({ misalignment }: UnwordedMeasured, outside: readonly ReadingFinding[]): string {
  const fields = new Set(outside.map(({ code }) => describeFinding(code).field));
  const by = (field: 'vertical_offset_pct' | 'horizontal_offset_pct', positive: string, negative: string) => {
    const { value } = misalignment[field];
    return fields.has(field) ? `${value > 0 ? negative : positive} by ${formatAmount(value, '%')}` : null;
  };
  const rotation = misalignment.rotation_deg.value;
  const parts = [
    by('vertical_offset_pct', 'up', 'down'),
    by('horizontal_offset_pct', 'to the right', 'to the left'),
    fields.has('rotation_deg')
      ? `round by ${formatAmount(rotation, '°')} ${rotation > 0 ? 'clockwise' : 'counter-clockwise'}`
      : null,
  ].filter((part) => part !== null);
  return parts.length === 0
    ? 'Describe the attachment in a house file to learn what to turn.'
    : `Bring it ${parts.join(' and ')} against the left-eye picture, then photograph again.`;
}

/** Only an ordinary capital goes: "Upper screw" but "K2 screw" stays. */
function lowerFirst(text: string): string {
  return /^[A-Z][a-z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}
