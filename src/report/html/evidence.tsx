/** What was measured, how and from what: enough to judge the numbers, and to repeat the measurement in five years. */
import { EyesPanel } from '../../drawings/eyes-panel.tsx';
import { TermsTable } from '../../drawings/terms-table.tsx';
import { Remainder, UncertaintyBudget } from '../../drawings/uncertainty-budget.tsx';
import { VerdictMark } from '../../drawings/verdict-mark.tsx';
import { type Slant, slantOf } from '../../kernel/view.ts';
import type { MeasuredReading, Reading, ReadingFinding } from '../../record/reading.ts';
import { SHOT_ROLES } from '../../record/roles.ts';
import type { ReportedField } from '../../record/term-fields.ts';
import { formatMarks } from '../../wording/eyes.ts';
import {
  describeFinding,
  formatFinding,
  formatVerdict,
  mostSevereByCode,
  sourceOfLimit,
} from '../../wording/findings.ts';
import { expressTerm } from '../../wording/lengths.ts';
import { decimalsForUncertainty, formatAmountWithin, formatFigures, formatNumber } from '../../wording/numbers.ts';
import { formatTerm, unitOfTerm } from '../../wording/terms.ts';
import { translate } from '../../wording/translate.ts';
import { describeUncancelled, formatAtMost, formatRepeatable, isAmountNearZero } from '../../wording/uncertainty.ts';
import { type Fact, Facts, Section } from './document.tsx';
import type { CropPlace, EvidenceCrop } from './pictures.ts';

interface ReadingProps {
  readonly reading: MeasuredReading;
}

export function Misalignment({ reading }: ReadingProps) {
  const { house, misalignment } = reading;
  const findings = mostSevereByCode(reading.findings);
  const uncancelled = describeUncancelled(reading);
  const assumed = house.assumed ? ' (assumed)' : '';
  const decimalsOf = (field: ReportedField) => decimalsForUncertainty(2 * misalignment[field].u);
  const value = (field: ReportedField) =>
    `${formatTerm(field, misalignment[field].value, decimalsOf(field))}${unitOfTerm(field) === '°' ? '°' : ' %'}`;
  const interval = (field: ReportedField) => {
    const { value, u } = misalignment[field];
    if (isAmountNearZero(field, value, u)) return formatAtMost(value, u);
    const decimals = decimalsOf(field);
    return `${formatTerm(field, value - 2 * u, decimals)} … ${formatTerm(field, value + 2 * u, decimals)}`;
  };
  const amount = (unit: 'lengths' | 'arcminutes', distance_ih: number) => (field: ReportedField) => {
    const expressed = expressTerm(field, misalignment[field], unit, house, distance_ih, 'metric');
    if (expressed === null) return '–';
    return `${formatAmountWithin(expressed.value, expressed.u)}${unit === 'lengths' ? ' mm' : '′'}`;
  };
  return (
    <Section title="Misalignment" note="Where the right-eye picture lies on the left-eye picture" isWide>
      <div className="scroll">
        <TermsTable
          reading={reading}
          figures={[
            { key: 'value', head: 'Value', figure: value },
            {
              key: 'u',
              head: '95 %',
              figure: (field) => <Doubt {...misalignment[field]} decimals={decimalsOf(field)} />,
            },
            { key: 'interval', head: '95 % interval', figure: interval },
            { key: 'lengths', head: 'On this screen', figure: amount('lengths', 1) },
            { key: 'nearest', head: `Nearest row${assumed}`, figure: amount('arcminutes', house.nearest_row_ih) },
            {
              key: 'reference',
              head: `Reference seat${assumed}`,
              figure: amount('arcminutes', house.reference_seat_ih),
            },
          ]}
          findingOf={(field) => findings.find(({ code }) => describeFinding(code).field === field)}
        />
      </div>
      <p className="note">
        Percent of the picture height; roll in degrees, positive counter-clockwise as seen from the audience.
        Millimetres and arcminutes give the largest displacement that the term makes anywhere in the picture.{' '}
        {house.assumed &&
          `No house file was given: the seats are assumed at ${house.nearest_row_ih} and ${house.reference_seat_ih} picture heights, and millimetres are not known. `}
        The 95 % interval is the value ± 2 standard uncertainties. In the bars the band is the limit, the upright stroke
        the value and the lying stroke its 95 % interval; an arrow points to a value far outside. Repeatable is the part
        that the next set of photographs of this print would throw anew.
      </p>
      <Remainder reading={reading} />
      {uncancelled && <p>{uncancelled}</p>}
    </Section>
  );
}

/** Twice the standard uncertainty, and softer the part of it that another set of photographs throws anew. */
function Doubt({
  u,
  u_repeat,
  decimals,
}: Readonly<Record<'u' | 'decimals', number>> & { readonly u_repeat?: number | undefined }) {
  return (
    <>
      ± {formatNumber(2 * u, decimals)}
      {u_repeat !== undefined && <span className="soft repeatable">{formatRepeatable(u_repeat)}</span>}
    </>
  );
}

/** Each figure's uncertainty, source by source. */
export function Budgets({ reading: { budget = [] } }: ReadingProps) {
  if (budget.length === 0) return null;
  return (
    <Section title="Uncertainty" note={translate('reading.budget-note')} isWide>
      <div className="budgets">
        {budget.map((each) => (
          <UncertaintyBudget key={each.figure} budget={each} />
        ))}
      </div>
    </Section>
  );
}

export function Eyes({ reading }: ReadingProps) {
  const findings = mostSevereByCode(reading.findings);
  return (
    <Section
      title="Eyes and ghost"
      note="Strength of the weaker picture over the stronger one, black level and stray light taken off"
    >
      <EyesPanel
        reading={reading}
        findingOf={(lens) => findings.find(({ code }) => code === `crosstalk-${lens}`)}
        limits={(_, finding) => <p className="soft">{formatFinding(finding)}</p>}
      />
    </Section>
  );
}

const PLACES: Readonly<Record<CropPlace, string>> = {
  'worst-residual': 'Mark that fits worst',
  centre: 'Centre',
  'upper-left': 'Upper left corner',
  'upper-right': 'Upper right corner',
  'lower-left': 'Lower left corner',
  'lower-right': 'Lower right corner',
};

/** The same small pieces of both photographs, at full resolution. */
export function Evidence({ crops }: { readonly crops: readonly EvidenceCrop[] }) {
  if (crops.length === 0) return null;
  return (
    <Section
      title="Evidence"
      note="Pieces of the photographs, pixel for pixel. Each lens should show the marks of its own eye only."
    >
      <div className="crops">
        {crops.map(({ place, markId, dataUri }) => (
          <figure key={place}>
            <div className="both">
              {SHOT_ROLES.filter((role) => dataUri[role] !== undefined).map((role) => (
                <div key={role} className={LENS_CLASS[role]}>
                  <img src={dataUri[role]} alt={`${PLACES[place]}, ${ROLES[role].toLowerCase()}`} />
                </div>
              ))}
            </div>
            <figcaption>
              <span>
                <b>{PLACES[place]}</b>, mark {markId}
              </span>
              <span>{dataUri.bare === undefined ? 'left lens | right lens' : 'without glasses'}</span>
            </figcaption>
          </figure>
        ))}
      </div>
    </Section>
  );
}

const LENS_CLASS = { bare: undefined, 'left-lens': 'lens-left', 'right-lens': 'lens-right' } as const;

/** Every limit in force, where it comes from, and the verdict. */
export function Limits({ findings }: { readonly findings: readonly ReadingFinding[] }) {
  return (
    <Section title="Limits in force" note="And where they come from" isWide>
      <div className="scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">Judged</th>
              <th scope="col">Found</th>
              <th scope="col">Verdict</th>
              <th scope="col">Source of the limit</th>
            </tr>
          </thead>
          <tbody>
            {findings.map((finding, i) => (
              <tr key={i}>
                <th scope="row">
                  {finding.code === findings[i - 1]?.code ? null : describeFinding(finding.code).name}
                </th>
                <td>{formatFinding(finding)}</td>
                <td>
                  <VerdictMark verdict={finding.verdict} words={formatVerdict(finding)} />
                </td>
                <td>{sourceOfLimit(finding)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Section>
  );
}

export function Method({ reading }: ReadingProps) {
  const { evidence, marks, house, steadiness } = reading;
  const used = evidence.marks.filter((mark) => mark.used);
  const rms = Math.sqrt(
    used.reduce((sum, { residual_px: [x, y] }) => sum + x * x + y * y, 0) / Math.max(1, 2 * used.length),
  );
  const { distortion, blur_px } = evidence;
  return (
    <Section title="Method" note="Photographs, software, house">
      <p>
        Each mark’s crossing was located in the photographs. One camera pose with one radial distortion and two plane
        projective maps, one for each eye’s picture, were fitted to all marks together; the difference of the two maps,
        right minus left, is the misalignment. The camera’s place drops out. Uncertainties follow the{' '}
        <i>Guide to the Expression of Uncertainty in Measurement</i> (coverage factor 1).
      </p>
      <Facts
        facts={[
          ['House', house.assumed ? 'none given' : `${house.name}: ${describeHouse(reading)}`],
          ['Camera', describeSlant(slantOf(evidence.photo_from_chart.left))],
          ['Marks', formatMarks(marks)],
          [
            'Steadiness',
            steadiness === null
              ? 'not known: no ghost was strong enough to see a movement'
              : `camera and film moved ${formatFigures(steadiness.movement_px.value)} ± ${formatFigures(2 * steadiness.movement_px.u, 1)} px between the photographs`,
          ],
          ['Residuals', `${formatNumber(rms, 3)} px root mean square`],
          [
            'Distortion of the camera lens',
            `k1 ${formatFigures(distortion.k1)}, k2 ${formatFigures(distortion.k2)} at ${formatFigures(distortion.radius_px, 4)} px`,
          ],
          [
            'Softness of edges',
            Object.entries(blur_px)
              .map(([role, blur]) => `${formatFigures(blur)} px ${ROLES[role as keyof typeof ROLES].toLowerCase()}`)
              .join(', '),
          ],
          ...listShotFacts(reading),
        ]}
      />
    </Section>
  );
}

const ROLES = {
  'left-lens': 'Through the left lens',
  'right-lens': 'Through the right lens',
  closing: 'Through the left lens again, last',
  bare: 'Without glasses',
} as const;

export function listShotFacts(reading: Reading): readonly Fact[] {
  return [
    ...reading.shots.map(
      (shot): Fact => [
        ROLES[shot.role],
        <>
          {shot.file}, {shot.width_px} × {shot.height_px} px
          <br />
          <code>SHA-256 {shot.sha256}</code>
        </>,
      ],
    ),
    ['Software', `${reading.software.name} ${reading.software.version}, ${reading.schema}`],
  ];
}

/** Angles below this are not worth a side. */
const SQUARE_DEG = 0.5;

function describeSlant({ aside_deg, above_deg }: Slant): string {
  const parts = [
    Math.abs(aside_deg) < SQUARE_DEG
      ? null
      : `${formatNumber(Math.abs(aside_deg), 1)}° from the ${aside_deg > 0 ? 'right' : 'left'}`,
    Math.abs(above_deg) < SQUARE_DEG
      ? null
      : `${formatNumber(Math.abs(above_deg), 1)}° from ${above_deg > 0 ? 'above' : 'below'}`,
  ].filter((part) => part !== null);
  return `it saw the picture ${parts.length === 0 ? 'square on' : parts.join(' and ')}, the slant of the projection included`;
}

function describeHouse({ house }: MeasuredReading): string {
  const parts = [
    house.picture_width_mm === null ? null : `picture ${formatNumber(house.picture_width_mm / 1000, 2)} m wide`,
    house.picture_height_mm === null ? null : `${formatNumber(house.picture_height_mm / 1000, 2)} m high`,
    house.throw_m === null ? null : `throw ${formatFigures(house.throw_m, 3)} m`,
    house.nearest_row_m === null ? null : `nearest row ${formatFigures(house.nearest_row_m, 3)} m`,
    house.reference_seat_m === null
      ? null
      : `reference seat ${formatFigures(house.reference_seat_m, 3)} m from the screen`,
  ];
  return parts.filter((part) => part !== null).join(', ');
}
