/** Which eye's picture each lens passes, and how strong the other one's ghost is. */
import type { MeasuredReading, ReadingFinding } from '../../record/reading.ts';
import { formatFinding, mostSevereByCode } from '../../wording/findings.ts';
import { decimalsForUncertainty, formatNumber } from '../../wording/numbers.ts';
import { formatAssignment, formatAssignmentOfLens } from '../../wording/eyes.ts';
import { type Markup, markup } from './markup.ts';
import { drawSection } from './section.ts';
import { drawVerdict } from './verdict-shape.ts';

export function drawEyesPanel(reading: MeasuredReading): Markup {
  const { eyes } = reading;
  const findings = mostSevereByCode(reading.findings);
  const panel = (lens: 'left' | 'right') => {
    const leak = lens === 'left' ? eyes.leak_left_lens_pct : eyes.leak_right_lens_pct;
    const finding = findings.find(({ code }) => code === `crosstalk-${lens}`);
    const decimals = decimalsForUncertainty(leak.u);
    return markup`<div class="lens ${lens === 'left' ? 'l' : 'r'}"><h3>Through the ${lens} lens</h3><p>${formatAssignmentOfLens(eyes.assignment, lens)}</p><p class="big">${formatNumber(leak.value, decimals)} ± ${formatNumber(2 * leak.u, decimals)} %</p>${drawLeak(leak.value, finding)}${finding ? markup`<p>${drawVerdict(finding)} <span class="soft">${formatFinding(finding)}</span></p>` : null}</div>`;
  };
  return drawSection(
    'Eyes and ghost',
    'Strength of the weaker picture over the stronger one, black level and stray light taken off',
    markup`<p>${formatAssignment(eyes.assignment)}</p>`,
    markup`<div class="panels">${panel('left')}${panel('right')}</div>`,
  );
}

/** The leak on a scale from 0.1 to 100 %, logarithmic because ghosts span three decades; the limit as a tick. */
function drawLeak(leak_pct: number, finding: ReadingFinding | undefined): Markup {
  const x = (pct: number) => Math.round((Math.log10(Math.min(100, Math.max(0.1, pct))) + 1) * 100);
  const decades = [0.1, 1, 10, 100].map(
    (pct) =>
      markup`<path d="M${x(pct)} 6V20" stroke="#9aa1aa"/><text x="${x(pct)}" y="34" font-size="11" fill="#565d66" text-anchor="middle">${pct}</text>`,
  );
  const limit = finding
    ? markup`<path d="M${x(finding.limit)} 1V24" stroke="#16191d" stroke-width="2"/><text x="${x(finding.limit) + 5}" y="4" font-size="11" fill="#16191d">limit</text>`
    : null;
  return markup`<svg class="leak" viewBox="-12 -8 330 46" role="img" aria-label="Leak ${leak_pct} percent on a logarithmic scale"><path d="M0 13H300" stroke="#9aa1aa"/><rect x="0" y="9" width="${x(leak_pct)}" height="8" fill="var(--lens)"/>${decades}${limit}</svg>`;
}
