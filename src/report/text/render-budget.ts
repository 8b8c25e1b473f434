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
import { alignColumns, wrapText } from './lay-out.ts';
import { plainText } from './plain-text.ts';

export function renderTextBudget(budget: RecordedBudget): string {
  const blocks = [
    wrapText(budget.sentence),
    tabulateSteps(budget),
    listGains(budget),
    tabulateLightFindings(budget.findings),
    listSources(budget),
    ['Cautions', ...budget.cautions.map((caution) => wrapText(caution, '  - '))].join('\n'),
  ];
  const text = blocks.filter((block) => block !== null).join('\n\n');
  return `${plainText(text).replaceAll('−', '-')}\n`;
}

function tabulateSteps({ start, steps, passed_pct, at_eye }: RecordedBudget): string {
  const share = (part: number) => `${formatNumber(part, 0)} %`;
  const rows = [
    ['as read', '', '', formatLuminance(start), share(start.share_of_variance_pct)],
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
    ['at the eye', `${formatFigures(passed_pct.value, 2)} %`, '', formatLuminance(at_eye), ''],
  ];
  return [
    'Step by step: each factor with its 95 % interval, the light behind it, its part of the uncertainty',
    alignColumns('lrrrr', [['', 'factor', '95 %', 'light', 'part'], ...rows]),
  ].join('\n');
}

function listGains({ gains }: RecordedBudget): string | null {
  if (gains.length === 0) return null;
  return [
    'Best gain for effort first',
    ...gains.flatMap((gain, index) => [
      wrapText(formatGain(gain), `  ${index + 1}. `),
      wrapText(`Assumed: ${gain.assumption}.`, '     '),
    ]),
  ].join('\n');
}

export function tabulateLightFindings(findings: RecordedBudget['findings']): string | null {
  if (findings.length === 0) return null;
  const areSeveral = new Set(findings.map(({ picture }) => picture)).size > 1;
  const rows = findings.map((finding) => [
    nameLightFinding(finding.code),
    areSeveral && finding.picture !== null ? shortenLitPicture(finding.picture) : '',
    formatLightVerdict(finding.verdict),
    formatLightFinding(finding),
  ]);
  const sources = [...new Set(findings.map(({ source, basis }) => formatLightSource(source, basis)))];
  return [
    'Against the limits',
    alignColumns('llll', rows),
    ...sources.map((source) => wrapText(`${source}.`, '  ')),
  ].join('\n');
}

function listSources({ steps }: RecordedBudget): string {
  return [
    'Where the factors come from',
    ...steps.map((step) => wrapText(`${nameBudgetStep(step)}: ${formatLightSource(step.source, step.basis)}.`, '  - ')),
  ].join('\n');
}
