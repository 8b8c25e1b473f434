/**
 * The one sentence for the operator: what is wrong with the largest consequence, and what to do now.
 * Order of urgency: lost polarization, exchanged eyes, geometry, ghost, nothing.
 */
import { isPredictedInside, listNeededMotion, mostSevereByCode, severityOf } from '../record/judge-reading.ts';
import type { ReadingFinding, UnwordedMeasured } from '../record/reading.ts';
import type { ReportedField } from '../record/term-fields.ts';
import { openTopic, type Values } from './catalogue.ts';
import messages from './en/reading.json' with { type: 'json' };
import { describeFinding } from './findings.ts';
import { formatFigures } from './numbers.ts';
import { describeTerm, formatPlace } from './terms.ts';
import { suggestShrinking } from './uncertainty.ts';
import { formatDirection, formatTurnAmount, formatTurnShortly, listWays, lowerFirst, shortenLabel } from './turns.ts';

const { translate } = openTopic(messages);
type SentenceKey = Extract<keyof typeof messages, `sentence.${string}`> extends `sentence.${infer Key}` ? Key : never;
const put = (key: SentenceKey, values?: Values) => translate(`sentence.${key}`, values);

const GHOSTS: ReadonlySet<string> = new Set(['crosstalk-left', 'crosstalk-right', 'local-ghost']);
/** More turns than this are left to the list. */
const MAX_TURNS = 3;

export function composeSentence(reading: UnwordedMeasured): string {
  const findings = mostSevereByCode(reading.findings.filter(({ level }) => level === 'working'));
  const isOutside = (code: string) => reading.findings.some((f) => f.code === code && f.verdict === 'outside');

  if (isOutside('no-polarization')) {
    return put('no-polarization');
  }
  if (reading.eyes.assignment === 'swapped') {
    return put(reading.causes[0]?.code === 'half-frame-threading' ? 'swapped.half-frame' : 'swapped');
  }

  const geometry = findings.filter(({ code }) => describeFinding(code).field !== null);
  const ghost = findings.filter(({ code, verdict }) => GHOSTS.has(code) && verdict === 'outside');
  const outside = geometry.filter(({ verdict }) => verdict === 'outside');
  if (outside.length > 0)
    return put('outside', { faults: formatFaults(outside, reading), action: formatAction(reading, ghost) });

  const undecided = geometry.filter(({ verdict }) => verdict === 'undecided');
  if (undecided.length > 0) {
    const action = reading.turns.length > 0 ? formatAction(reading, ghost) : formatRemedy(undecided, reading);
    return put('undecided', { faults: formatFaults(undecided, reading), action });
  }
  if (ghost.length > 0) {
    return put('ghost', { ghost: formatGhost(ghost) });
  }
  const stray = reading.strays?.[0];
  if (stray && isOutside('stray-image')) {
    return put('stray', { strength: formatFigures(stray.strength_pct.value), side: stray.side });
  }
  if (reading.eyes.assignment === 'undetermined') {
    return put('undetermined');
  }
  return put(reading.eyes.assignment === 'not-looked-at' ? 'geometry-within' : 'within');
}

/** What would tell: whatever leads the uncertainty of the figure that is too close to its limit. */
function formatRemedy([finding]: readonly ReadingFinding[], { budget }: UnwordedMeasured): string {
  const own = finding && budget?.find(({ figure }) => figure === describeFinding(finding.code).field);
  return (own && suggestShrinking(own)) ?? put('again');
}

/** The one or two faults with the largest consequence. The worst place is named only when nothing else explains it. */
function formatFaults(findings: readonly ReadingFinding[], reading: UnwordedMeasured): string {
  const explained = findings.filter(({ code }) => code !== 'worst-vertical');
  const named = (explained.length > 0 ? explained : findings)
    .toSorted((a, b) => severityOf(b) - severityOf(a))
    .slice(0, 2)
    .map(({ code }) => {
      const field = describeFinding(code).field as ReportedField;
      const { value, u } = reading.misalignment[field];
      const fault = describeTerm(field, value, u);
      if (field !== 'worst_vertical_pct') return fault;
      const place = formatPlace(reading.misalignment.worst_vertical_pct.at, reading.house.aspect);
      return put('fault.place', { fault, place });
    });
  return joinTwo(named);
}

function formatAction(reading: UnwordedMeasured, ghost: readonly ReadingFinding[]): string {
  const { turns, trial_turns, incurable } = reading;
  if (turns.length > 0) {
    const inOrder = turns.toSorted((a, b) => a.order - b.order);
    const named = inOrder
      .slice(0, MAX_TURNS)
      .map((turn, i) => (i === 0 ? formatTurnShortly(turn) : lowerFirst(formatTurnShortly(turn))));
    return put('turns', {
      turns: named.reduce((first, next) => put('turns.next', { first, next })),
      more: Math.max(0, inOrder.length - MAX_TURNS),
      end: formatEnd(reading, ghost),
    });
  }
  const [trial, ...more] = trial_turns.toSorted((a, b) => a.order - b.order);
  if (trial) {
    return put('trial', {
      adjustment: lowerFirst(shortenLabel(trial.label)),
      amount: formatTurnAmount(trial.turns),
      direction: formatDirection(trial.direction),
      more: more.length,
    });
  }
  if (incurable.length > 0) return put('incurable');
  return formatMotion(reading);
}

function formatEnd(reading: UnwordedMeasured, ghost: readonly ReadingFinding[]): string {
  if (!isPredictedInside(reading)) return put(reading.incurable.length > 0 ? 'end.rest' : 'end.again');
  return ghost.length > 0 ? put('end.ghost', { ghost: formatGhost(ghost) }) : put('end.within');
}

function formatGhost(ghost: readonly ReadingFinding[]): string {
  const local = ghost.find(({ code }) => code === 'local-ghost');
  if (local) return put('ghost.place', { percent: formatFigures(local.value) });
  const worst = ghost.toSorted((a, b) => b.value - a.value)[0]!;
  return put(ghost.length > 1 ? 'ghost.both' : 'ghost.one', {
    percent: formatFigures(worst.value),
    lens: worst.code === 'crosstalk-left' ? 'left' : 'right',
  });
}

/** How the pictures have to go, for a house whose adjustments are not described: the same motions as in the list. */
function formatMotion(reading: UnwordedMeasured): string {
  const motions = listNeededMotion(reading)
    .toSorted((a, b) => (a.eye === b.eye ? 0 : a.eye === 'right' ? -1 : 1))
    .map((motion) => ({ eye: motion.eye, ways: listWays(motion) }))
    .filter(({ ways }) => ways.length > 0)
    .map(({ eye, ways }) => put('bring', { eye, ways: joinTwo(ways) }));
  return motions.length === 0 ? put('motion.none') : put('motion', { motions: joinTwo(motions) });
}

function joinTwo(parts: readonly string[]): string {
  return parts.reduce((first, second) => translate('and', { first, second }));
}
