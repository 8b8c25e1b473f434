/** A light budget for the terminal: the sentence, the chain, what would give most, limits, sources, cautions. */
import type { RecordedBudget } from '../../record/light-budget.ts';
import {
  formatGain,
  formatLightFinding,
  formatLightSource,
  formatLightVerdict,
  formatLuminance,
  nameBudgetStep,
  nameLightFinding,
  shortenLitPicture,
} from '../../wording/light.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from '../../wording/numbers.ts';
import { translate } from '../../wording/translate.ts';
import { alignColumns, layOut, markVerdict, type TextStyle, wrapText } from './text-layout.ts';

export function renderTextBudget(budget: RecordedBudget, style?: TextStyle): string {
  const blocks = [
    wrapText(budget.sentence),
    tabulateSteps(budget),
    listGains(budget),
    tabulateLightFindings(budget.findings),
    listSources(budget),
    [translate('report.cautions'), ...budget.cautions.map((caution) => wrapText(caution, '  - '))].join('\n'),
  ];
  const text = blocks.filter((block) => block !== null).join('\n\n');
  return `${layOut(text, style)}\n`;
}

function tabulateSteps({ start, steps, passed_pct, at_eye }: RecordedBudget): string {
  const share = (part: number) => `${formatNumber(part, 0)} %`;
  const rows = [
    [translate('report.as-read'), '', '', formatLuminance(start), share(start.share_of_variance_pct)],
    ...steps.map((step) => {
      const decimals = decimalsForUncertainty(step.factor.u);
      return [
        nameBudgetStep(step),
        formatNumber(step.factor.value, decimals),
        `± ${formatNumber(2 * step.factor.u, decimals)}`,
        formatLuminance(step.after),
        share(step.share_of_variance_pct),
      ];
    }),
    [translate('report.at-eye'), `${formatFigures(passed_pct.value, 2)} %`, '', formatLuminance(at_eye), ''],
  ];
  return [
    translate('report.steps-head'),
    alignColumns('lrrrr', [
      [
        '',
        translate('report.column-factor'),
        '95 %',
        translate('report.column-light'),
        translate('report.column-part'),
      ],
      ...rows,
    ]),
  ].join('\n');
}

function listGains({ gains }: RecordedBudget): string | null {
  if (gains.length === 0) return null;
  return [
    translate('report.gains-head'),
    ...gains.flatMap((gain, index) => [
      wrapText(formatGain(gain), `  ${index + 1}. `),
      wrapText(translate('report.gain-assumed', { assumption: gain.assumption }), '     '),
    ]),
  ].join('\n');
}

export function tabulateLightFindings(findings: RecordedBudget['findings']): string | null {
  if (findings.length === 0) return null;
  const areSeveral = new Set(findings.map(({ picture }) => picture)).size > 1;
  const rows = findings.map((finding) => [
    nameLightFinding(finding.code),
    areSeveral && finding.picture !== null ? shortenLitPicture(finding.picture) : '',
    markVerdict(formatLightVerdict(finding.verdict), finding.verdict),
    formatLightFinding(finding),
  ]);
  const sources = [...new Set(findings.map(({ source, basis }) => formatLightSource(source, basis)))];
  return [
    translate('report.against-limits'),
    alignColumns('llll', rows),
    ...sources.map((source) => wrapText(`${source}.`, '  ')),
  ].join('\n');
}

function listSources({ steps }: RecordedBudget): string {
  return [
    translate('report.sources-head'),
    ...steps.map((step) => wrapText(`${nameBudgetStep(step)}: ${formatLightSource(step.source, step.basis)}.`, '  - ')),
  ].join('\n');
}
