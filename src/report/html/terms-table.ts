/** The terms of the misalignment: value, uncertainty, 95 % interval, on this screen, at the seats, and against its limit. */
import type { MeasuredReading, ReadingFinding } from '../../record/reading.ts';
import { REPORTED_FIELDS, type ReportedField } from '../../record/term-fields.ts';
import { arcminutesFrom, millimetresOnScreen, reachOfTerm } from '../displacement.ts';
import {
  describeFinding,
  formatFinding,
  formatVerdict,
  mostSevereByCode,
  sourceOfLimit,
} from '../../wording/findings.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from '../../wording/numbers.ts';
import { formatTerm, nameTerm, unitOfTerm } from '../../wording/terms.ts';
import { type Markup, markup } from './markup.ts';
import { drawToleranceBar } from './tolerance-bar.ts';
import { drawVerdict } from './verdict-shape.ts';

export function drawTermsTable(reading: MeasuredReading): Markup {
  const findings = mostSevereByCode(reading.findings);
  const { house } = reading;
  const assumed = house.assumed ? ' (assumed)' : '';
  return markup`<div class="scroll"><table class="terms"><thead><tr><th scope="col">Right-eye picture<br>minus left-eye picture</th><th scope="col" class="n">Value</th><th scope="col" class="n">Standard<br>uncertainty</th><th scope="col" class="n">95 % interval</th><th scope="col" class="n">On this<br>screen</th><th scope="col" class="n">Nearest<br>row${assumed}</th><th scope="col" class="n">Reference<br>seat${assumed}</th><th scope="col">Against its limit</th><th scope="col">Verdict</th></tr></thead><tbody>${REPORTED_FIELDS.map((field) => drawRow(field, reading, findings))}</tbody></table></div><p class="note">Percent of the picture height; roll in degrees, positive counter-clockwise as seen from the audience. Millimetres and arcminutes give the largest displacement that the term makes anywhere in the picture.${house.assumed ? ` No house file was given: the seats are assumed at ${house.nearest_row_ih} and ${house.reference_seat_ih} picture heights, and millimetres are not known.` : ''} The 95 % interval is the value ± 2 standard uncertainties. In the bars the band is the limit, the upright stroke the value and the lying stroke its 95 % interval; an arrow points to a value far outside.</p>`;
}

function drawRow(field: ReportedField, reading: MeasuredReading, findings: readonly ReadingFinding[]): Markup {
  const { house, misalignment } = reading;
  const { value, u } = misalignment[field];
  const decimals = decimalsForUncertainty(u);
  const unit = unitOfTerm(field) === '°' ? '°' : ' %';
  const reach_pct = value * reachOfTerm(field, house.aspect);
  const angle = (distance_ih: number) => `${formatFigures(Math.abs(arcminutesFrom(reach_pct, distance_ih)), 2, 2)}′`;
  const millimetres = millimetresOnScreen(reach_pct, house);
  const finding = findings.find(({ code }) => describeFinding(code).field === field);
  return markup`<tr><th scope="row">${nameTerm(field)}</th><td class="n">${formatTerm(field, value, decimals)}${unit}</td><td class="n">${formatNumber(u, decimals)}</td><td class="n">${formatTerm(field, value - 2 * u, decimals)} … ${formatTerm(field, value + 2 * u, decimals)}</td><td class="n">${millimetres === null ? '–' : `${formatFigures(Math.abs(millimetres), 2, 2)} mm`}</td><td class="n">${angle(house.nearest_row_ih)}</td><td class="n">${angle(house.reference_seat_ih)}</td>${
    finding
      ? markup`<td>${drawToleranceBar({ ...finding, oneSided: finding.code === 'horizontal-offset', label: `${formatFinding(finding)}: ${formatVerdict(finding)}` })}</td><td>${drawVerdict(finding)}</td>`
      : markup`<td class="soft">no limit of its own</td><td></td>`
  }</tr>`;
}

/** Every limit in force, where it comes from, and the verdict. */
export function drawLimitsTable(findings: readonly ReadingFinding[]): Markup {
  const isNew = (index: number) => findings[index]!.code !== findings[index - 1]?.code;
  return markup`<div class="scroll"><table><thead><tr><th scope="col">Judged</th><th scope="col">Found</th><th scope="col">Verdict</th><th scope="col">Source of the limit</th></tr></thead><tbody>${findings.map(
    (finding, index) =>
      markup`<tr><th scope="row">${isNew(index) ? describeFinding(finding.code).name : null}</th><td>${formatFinding(finding)}</td><td>${drawVerdict(finding)}</td><td>${sourceOfLimit(finding)}</td></tr>`,
  )}</tbody></table></div>`;
}
