/** A reading for the terminal: the one sentence first, then the numbers, then turns, causes, cautions. */
import type { Measured } from '../../kernel/measured.ts';
import type { EvennessRecord } from '../../record/evenness.ts';
import { judgeOverall, listNeededMotion, mostSevereByCode } from '../../record/judge-reading.ts';
import type { ReadingCause, ReadingNextCheck } from '../../record/diagnosis.ts';
import type { MeasuredReading, Reading, RefusedReading } from '../../record/reading.ts';
import { REPORTED_FIELDS } from '../../record/term-fields.ts';
import {
  type CauseGroup,
  formatEvidence,
  formatProbability,
  groupCauses,
  introduceGroup,
  listChecks,
  translateCause,
  translateCheck,
} from '../../wording/causes.ts';
import { cautionOfCheck, cautionOfTurn } from '../../wording/cautions.ts';
import { formatAssignment, formatMarks } from '../../wording/eyes.ts';
import { describeFinding, formatFinding, formatVerdict, sourceOfLimit } from '../../wording/findings.ts';
import { expressTerm } from '../../wording/lengths.ts';
import { formatLearningColumn, listLearned } from '../../wording/learning.ts';
import { summariseLight } from '../../wording/light.ts';
import { decimalsForUncertainty, formatAmountWithin, formatFigures, formatNumber } from '../../wording/numbers.ts';
import { formatTerm, nameTerm, unitOfTerm } from '../../wording/terms.ts';
import { translate } from '../../wording/translate.ts';
import {
  capitalise,
  formatIncurableTerm,
  formatMotion,
  formatTurn,
  listTurnNotes,
  translateIncurable,
} from '../../wording/turns.ts';
import {
  describeRemainder,
  describeUncancelled,
  formatAtMost,
  formatLead,
  isAmountNearZero,
  suggestShrinking,
} from '../../wording/uncertainty.ts';
import { alignColumns, layOut, markVerdict, type TextStyle, wrapText } from './text-layout.ts';

/** `light`: of the same photographs, where it was measured. */
export function renderTextReport(reading: Reading, light?: EvennessRecord, style?: TextStyle): string {
  const blocks = reading.outcome === 'measured' ? describeMeasured(reading, light) : describeRefused(reading);
  const text = blocks.filter((block) => block !== null).join('\n\n');
  return `${layOut(text, style)}\n`;
}

function describeRefused({ refusal, causes = [], next_check, cautions = [] }: RefusedReading): (string | null)[] {
  return [wrapText(refusal.message), wrapText(refusal.remedy), listCauses(causes, next_check), listCautions(cautions)];
}

function describeMeasured(reading: MeasuredReading, light: EvennessRecord | undefined): (string | null)[] {
  const uncancelled = describeUncancelled(reading);
  return [
    [
      wrapText(reading.sentence),
      translate('report.overall', { verdict: translate(`parts.${judgeOverall(reading)}`) }),
    ].join('\n'),
    listWarnings(reading),
    tabulateTerms(reading),
    describeUncertainty(reading),
    describeEyes(reading),
    tabulateFindings(reading),
    listTurns(reading),
    describeLearned(reading),
    listIncurable(reading),
    listCauses(reading.causes, reading.next_check),
    light ? listLight(light) : null,
    listCautions(reading.cautions),
    uncancelled === null ? null : wrapText(uncancelled),
    describeOrigin(reading),
  ];
}

function block(title: string, lines: readonly string[]): string | null {
  return lines.length === 0 ? null : [title, ...lines].join('\n');
}

function describeLearned({ learning }: MeasuredReading): string | null {
  if (!learning) return null;
  const rows = listLearned(learning).map(({ label, term, stated, learned, backlash, isTried }) => [
    label,
    term ?? '-',
    stated ?? formatLearningColumn('unknown'),
    isTried ? (learned ?? '-') : formatLearningColumn('untried'),
    backlash,
  ]);
  const head = (['adjustment', 'term', 'stated', 'learned', 'backlash'] as const).map((column) =>
    formatLearningColumn(`column.${column}`),
  );
  return [
    formatLearningColumn('heading'),
    alignColumns('llrrr', [head, ...rows]),
    wrapText(learning.sentence, '  '),
  ].join('\n');
}

function listLight(light: EvennessRecord): string | null {
  return block(
    translate('report.light'),
    summariseLight(light).map((sentence) => wrapText(sentence, '  ')),
  );
}

function listWarnings({ warnings }: MeasuredReading): string | null {
  return block(
    translate('report.notes'),
    warnings.map(({ message }) => wrapText(message, '  - ')),
  );
}

function tabulateTerms({ misalignment, house }: MeasuredReading): string {
  const rows = REPORTED_FIELDS.map((field) => {
    const { value, u, u_repeat } = misalignment[field];
    const decimals = decimalsForUncertainty(2 * u);
    const amount = (unit: 'lengths' | 'arcminutes', distance_ih: number) => {
      const expressed = expressTerm(field, misalignment[field], unit, house, distance_ih, 'metric');
      return expressed === null ? '-' : formatAmountWithin(expressed.value, expressed.u);
    };
    return [
      nameTerm(field),
      `${formatTerm(field, value, decimals)} ${unitOfTerm(field) === '°' ? 'deg' : '%'}`,
      isAmountNearZero(field, value, u) ? formatAtMost(value, u) : `± ${formatNumber(2 * u, decimals)}`,
      u_repeat === undefined ? '-' : `± ${formatFigures(2 * u_repeat, 2)}`,
      amount('lengths', 1),
      amount('arcminutes', house.nearest_row_ih),
      amount('arcminutes', house.reference_seat_ih),
    ];
  });
  const head = [
    '',
    translate('report.column-value'),
    '95 %',
    translate('report.column-repeatable'),
    'mm',
    translate('report.column-nearest'),
    translate('report.column-reference'),
  ];
  const note = house.assumed
    ? translate('report.seats-assumed-command', {
        nearest: `${house.nearest_row_ih}`,
        reference: `${house.reference_seat_ih}`,
      })
    : translate('report.seats-known');
  return [translate('report.misalignment-head'), alignColumns('lrrrrrr', [head, ...rows]), wrapText(note, '  ')].join(
    '\n',
  );
}

/** What leads the uncertainty of the worst place, what would shrink it, and what lies beyond the terms. */
function describeUncertainty(reading: MeasuredReading): string | null {
  const budget = reading.budget?.find(({ figure }) => figure === 'worst_vertical_pct');
  const remainder = describeRemainder(reading);
  const sentences = [
    budget ? [formatLead(budget), suggestShrinking(budget)].filter((part) => part !== null).join(' ') : null,
    remainder?.isClear ? `${remainder.sentence} ${remainder.reasons}` : null,
  ];
  return block(
    translate('report.uncertainty'),
    sentences.filter((sentence) => sentence !== null).map((sentence) => wrapText(sentence, '  ')),
  );
}

function describeEyes({ eyes }: MeasuredReading): string {
  const leak = ({ value, u }: Measured) => {
    const decimals = decimalsForUncertainty(2 * u);
    return `${formatNumber(value, decimals)} ± ${formatNumber(2 * u, decimals)} %`;
  };
  return [
    translate('report.eyes-head'),
    wrapText(formatAssignment(eyes.assignment), '  '),
    ...(eyes.assignment === 'not-looked-at'
      ? []
      : [
          wrapText(
            translate('report.ghosts', { left: leak(eyes.leak_left_lens_pct), right: leak(eyes.leak_right_lens_pct) }),
            '  ',
          ),
        ]),
  ].join('\n');
}

function tabulateFindings({ findings }: MeasuredReading): string {
  const rows = mostSevereByCode(findings).map((finding) => [
    describeFinding(finding.code).name,
    markVerdict(formatVerdict(finding), finding.verdict),
    formatFinding(finding),
  ]);
  const unconfirmed = mostSevereByCode(findings).filter(({ confirmed }) => !confirmed);
  return [
    translate('report.against-limits'),
    alignColumns('lll', rows),
    ...unconfirmed.map((finding) =>
      wrapText(`${describeFinding(finding.code).name}: ${sourceOfLimit(finding)}.`, '  '),
    ),
  ].join('\n');
}

function listTurns(reading: MeasuredReading): string | null {
  const { advice, turns, trial_turns } = reading;
  if (advice === 'motion-only') {
    return block(
      translate('report.motion'),
      listNeededMotion(reading).map((motion) => wrapText(formatMotion(motion), '  - ')),
    );
  }
  const blocks = [
    block(
      translate('report.turns-head'),
      turns.flatMap((turn) => [
        wrapText(formatTurn(turn), `  ${turn.order}. `),
        ...(turn.order === 1 ? [wrapText(cautionOfTurn(), '     ')] : []),
        ...listTurnNotes(turn).map((note) => wrapText(note, '     ')),
      ]),
    ),
    turns.length === 0 ? null : wrapText(translate('report.predicted', { terms: formatAfterwards(reading) }), '  '),
    block(
      translate('report.trials-head'),
      trial_turns.map((turn) => wrapText(formatTurn(turn), `  ${turn.order}. `)),
    ),
  ].filter((part) => part !== null);
  return blocks.length === 0 ? null : blocks.join('\n');
}

function formatAfterwards({ misalignment, predicted_after }: MeasuredReading): string {
  const changed = REPORTED_FIELDS.filter(
    (field) => Math.abs(predicted_after[field] - misalignment[field].value) > misalignment[field].u,
  );
  return changed
    .map((field) => {
      const decimals = Math.min(3, decimalsForUncertainty(2 * misalignment[field].u));
      const unit = unitOfTerm(field) === '°' ? 'deg' : '%';
      return `${nameTerm(field).toLowerCase()} ${formatTerm(field, predicted_after[field], decimals)} ${unit}`;
    })
    .join(', ');
}

function listIncurable({ incurable }: MeasuredReading): string | null {
  return block(
    translate('report.not-adjustable'),
    incurable.flatMap((item) => [
      wrapText(formatIncurableTerm(item), '  - '),
      ...item.reasons.map((reason) => wrapText(translateIncurable(reason), '    ')),
    ]),
  );
}

function listCauses(causes: readonly ReadingCause[], next: ReadingNextCheck | null = null): string | null {
  const checks = listChecks({ causes, next_check: next }).map((check, i) =>
    wrapText([translateCheck(check), cautionOfCheck(check)].filter(Boolean).join(' '), `  ${i + 1}. `),
  );
  const parts = [
    block(translate('report.checks-head'), checks),
    block(translate('report.causes-head'), groupCauses(causes).flatMap(listGroup)),
  ].filter((part) => part !== null);
  return parts.length === 0 ? null : parts.join('\n\n');
}

function listGroup({ causes, isUndecided }: CauseGroup<ReadingCause>, index: number): string[] {
  if (!isUndecided) return listCause(causes[0]!, `  ${index + 1}. `);
  return [wrapText(introduceGroup(), `  ${index + 1}. `), ...causes.flatMap((cause) => listCause(cause, '     - '))];
}

function listCause(cause: ReadingCause, mark: string): string[] {
  const evidence = cause.evidence.map(formatEvidence).filter((words) => words !== null);
  const chance = formatProbability(cause);
  const indent = ' '.repeat(mark.length);
  return [
    wrapText(`${translateCause(cause)}${chance === null ? '' : ` ${capitalise(chance)}.`}`, mark),
    ...(cause.remedy === undefined ? [] : [wrapText(translate('report.if-so', { remedy: cause.remedy }), indent)]),
    ...(evidence.length > 0
      ? [wrapText(translate('report.evidence-list', { evidence: evidence.join('; ') }), indent)]
      : []),
  ];
}

function listCautions(cautions: readonly string[]): string | null {
  return block(
    translate('report.cautions'),
    cautions.map((caution) => wrapText(caution, '  - ')),
  );
}

function describeOrigin({ shots, marks, software, house }: MeasuredReading): string {
  const files = shots
    .map(({ role, file }) => translate('report.file-through', { role: role.replace('-lens', ''), file }))
    .join(', ');
  return wrapText(
    `${house.name === null ? '' : `${house.name}; `}${files}; ${formatMarks(marks)}; twinplumb ${software.version}.`,
  );
}
