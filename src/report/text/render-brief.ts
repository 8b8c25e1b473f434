/** A reading in short, for a small terminal: the sentence, the verdict, the eyes, what to turn, and what was not cancelled. */
import { judgeOverall, listNeededMotion } from '../../record/judge-reading.ts';
import type { MeasuredReading, Reading } from '../../record/reading.ts';
import { formatAssignment } from '../../wording/eyes.ts';
import { translate } from '../../wording/translate.ts';
import { formatMotion, formatTurn, listTurnNotes } from '../../wording/turns.ts';
import { describeUncancelled } from '../../wording/uncertainty.ts';
import { layOut, type TextStyle, wrapText } from './text-layout.ts';

/** Lines of the smallest usual terminal. */
const MAX_LINES = 24;
/** Cautions that hold whatever is turned stand first. */
const MAX_CAUTIONS = 2;

export function renderBrief(reading: Reading, style?: TextStyle): string {
  if (reading.outcome === 'refused') {
    const { message, remedy } = reading.refusal;
    return `${layOut([wrapText(message), wrapText(remedy)].join('\n'), style)}\n`;
  }
  const whole = layOut(describe(reading, true), style);
  const text = whole.split('\n').length < MAX_LINES ? whole : layOut(describe(reading, false), style);
  return `${text}\n`;
}

function describe(reading: MeasuredReading, withNotes: boolean): string {
  const cautions = reading.cautions.slice(0, MAX_CAUTIONS);
  const uncancelled = describeUncancelled(reading);
  return [
    wrapText(reading.sentence),
    '',
    wrapText(translate('report.overall', { verdict: translate(`parts.${judgeOverall(reading)}`) })),
    wrapText(translate('report.brief-eyes', { eyes: formatAssignment(reading.eyes.assignment) })),
    ...listSteps(reading, withNotes),
    '',
    wrapText(translate('report.brief-cautions', { cautions: cautions.join(' ') })),
    ...(uncancelled === null ? [] : ['', wrapText(uncancelled)]),
  ].join('\n');
}

function listSteps(reading: MeasuredReading, withNotes: boolean): string[] {
  const { advice, turns, trial_turns } = reading;
  if (advice === 'motion-only') {
    return [
      '',
      translate('report.motion'),
      ...listNeededMotion(reading).map((motion) => wrapText(formatMotion(motion), '  - ')),
    ];
  }
  const tell = (turn: Parameters<typeof formatTurn>[0], notes: readonly string[]) =>
    wrapText([`${formatTurn(turn)}.`, ...notes].join(' '), `  ${turn.order}. `);
  return [
    ...(turns.length > 0 ? ['', translate('report.turns-head')] : []),
    ...turns.map((turn) => tell(turn, withNotes ? listTurnNotes(turn) : [])),
    ...(trial_turns.length > 0 ? ['', translate('report.trials-head')] : []),
    ...trial_turns.map((turn) => tell(turn, [])),
  ];
}
