/** What was measured, how and from what: enough to judge the numbers, and to repeat the measurement in five years. */
import { EyesPanel } from '../../drawings/eyes-panel.tsx';
import { TermsTable } from '../../drawings/terms-table.tsx';
import { Remainder, UncertaintyBudget } from '../../drawings/uncertainty-budget.tsx';
import { VerdictMark } from '../../drawings/verdict-mark.tsx';
import { type Slant, slantOf } from '../../kernel/view.ts';
import { mostSevereByCode } from '../../record/judge-reading.ts';
import type { MeasuredReading, Reading, ReadingFinding } from '../../record/reading.ts';
import { type PhotographRole, SHOT_ROLES } from '../../record/roles.ts';
import type { ReportedField } from '../../record/term-fields.ts';
import { formatMarks } from '../../wording/eyes.ts';
import { describeFinding, formatFinding, formatVerdict, sourceOfLimit } from '../../wording/findings.ts';
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
  const seat = { assumed: `${house.assumed}` };
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
    <Section title={translate('report.misalignment')} note={translate('report.misalignment-note')} isWide>
      <div className="scroll">
        <TermsTable
          reading={reading}
          figures={[
            { key: 'value', head: translate('report.head-value'), figure: value },
            {
              key: 'u',
              head: translate('report.column-interval'),
              figure: (field) => <Doubt {...misalignment[field]} decimals={decimalsOf(field)} />,
            },
            { key: 'interval', head: translate('report.head-interval'), figure: interval },
            { key: 'lengths', head: translate('report.head-screen'), figure: amount('lengths', 1) },
            {
              key: 'nearest',
              head: translate('report.head-nearest', seat),
              figure: amount('arcminutes', house.nearest_row_ih),
            },
            {
              key: 'reference',
              head: translate('report.head-reference', seat),
              figure: amount('arcminutes', house.reference_seat_ih),
            },
          ]}
          findingOf={(field) => findings.find(({ code }) => describeFinding(code).field === field)}
        />
      </div>
      <p className="note">
        {translate('report.misalignment-legend')}{' '}
        {house.assumed &&
          `${translate('report.seats-assumed', { nearest: `${house.nearest_row_ih}`, reference: `${house.reference_seat_ih}` })} `}
        {translate('report.bars-legend')}
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
    <Section title={translate('report.uncertainty')} note={translate('reading.budget-note')} isWide>
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
    <Section title={translate('report.eyes')} note={translate('report.eyes-note')}>
      <EyesPanel
        reading={reading}
        findingOf={(lens) => findings.find(({ code }) => code === `crosstalk-${lens}`)}
        limits={(_, finding) => <p className="soft">{formatFinding(finding)}</p>}
      />
    </Section>
  );
}

const namePlace = (place: CropPlace) => translate(`report.place-${place}`);

/** The same small pieces of both photographs, at full resolution. */
export function Evidence({ crops }: { readonly crops: readonly EvidenceCrop[] }) {
  if (crops.length === 0) return null;
  return (
    <Section title={translate('report.evidence')} note={translate('report.evidence-note')}>
      <div className="crops">
        {crops.map(({ place, markId, dataUri }) => (
          <figure key={place}>
            <div className="both">
              {SHOT_ROLES.filter((role) => dataUri[role] !== undefined).map((role) => (
                <div key={role} className={LENS_CLASS[role]}>
                  <img src={dataUri[role]} alt={`${namePlace(place)}, ${nameRole(role, true)}`} />
                </div>
              ))}
            </div>
            <figcaption>
              <span>
                <b>{namePlace(place)}</b>, {translate('report.mark', { id: markId })}
              </span>
              <span>{translate(dataUri.bare === undefined ? 'report.both-lenses' : 'report.without-glasses')}</span>
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
    <Section title={translate('report.limits')} note={translate('report.limits-note')} isWide>
      <div className="scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">{translate('report.limit-judged')}</th>
              <th scope="col">{translate('report.limit-found')}</th>
              <th scope="col">{translate('report.verdict')}</th>
              <th scope="col">{translate('report.limit-source')}</th>
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
    <Section title={translate('report.method')} note={translate('report.method-note')}>
      <p>{translate('report.method-text')}</p>
      <Facts
        facts={[
          [
            translate('report.house'),
            house.assumed ? translate('report.house-none') : `${house.name}: ${describeHouse(reading)}`,
          ],
          [translate('report.camera'), describeSlant(slantOf(evidence.photo_from_chart.left))],
          [translate('report.marks'), formatMarks(marks)],
          [
            translate('report.steadiness'),
            steadiness === null
              ? translate('report.steadiness-unknown')
              : translate('report.moved', {
                  moved: formatFigures(steadiness.movement_px.value),
                  u: formatFigures(2 * steadiness.movement_px.u, 1),
                }),
          ],
          [translate('report.residuals'), translate('report.residuals-rms', { rms: formatNumber(rms, 3) })],
          [
            translate('report.distortion'),
            translate('report.distortion-value', {
              k1: formatFigures(distortion.k1),
              k2: formatFigures(distortion.k2),
              radius: formatFigures(distortion.radius_px, 4),
            }),
          ],
          [
            translate('report.edge-blur'),
            Object.entries(blur_px)
              .map(([role, blur]) => `${formatFigures(blur)} px ${nameRole(role as PhotographRole, true)}`)
              .join(', '),
          ],
          ...listShotFacts(reading),
        ]}
      />
    </Section>
  );
}

/** Within a sentence it begins with a small letter. */
const nameRole = (role: PhotographRole, isWithin = false) =>
  translate(`report.through-${role}`, { place: isWithin ? 'within' : 'first' });

export function listShotFacts(reading: Reading): readonly Fact[] {
  return [
    ...reading.shots.map(
      (shot): Fact => [
        nameRole(shot.role),
        <>
          {shot.file}, {shot.width_px} × {shot.height_px} px
          <br />
          <code>SHA-256 {shot.sha256}</code>
        </>,
      ],
    ),
    [translate('report.software'), `${reading.software.name} ${reading.software.version}, ${reading.schema}`],
  ];
}

/** Angles below this are not worth a side. */
const SQUARE_DEG = 0.5;

function describeSlant({ aside_deg, above_deg }: Slant): string {
  const parts = [
    Math.abs(aside_deg) < SQUARE_DEG
      ? null
      : translate('report.slant-aside', {
          angle: formatNumber(Math.abs(aside_deg), 1),
          side: aside_deg > 0 ? 'right' : 'left',
        }),
    Math.abs(above_deg) < SQUARE_DEG
      ? null
      : translate('report.slant-above', {
          angle: formatNumber(Math.abs(above_deg), 1),
          side: above_deg > 0 ? 'above' : 'below',
        }),
  ].filter((part) => part !== null);
  const [first, second] = parts;
  return translate('report.slant', { first, second });
}

function describeHouse({ house }: MeasuredReading): string {
  const parts = [
    house.picture_width_mm === null
      ? null
      : translate('report.house-width', { width: formatNumber(house.picture_width_mm / 1000, 2) }),
    house.picture_height_mm === null
      ? null
      : translate('report.house-height', { height: formatNumber(house.picture_height_mm / 1000, 2) }),
    house.throw_m === null ? null : translate('report.house-throw', { distance: formatFigures(house.throw_m, 3) }),
    house.nearest_row_m === null
      ? null
      : translate('report.house-nearest', { distance: formatFigures(house.nearest_row_m, 3) }),
    house.reference_seat_m === null
      ? null
      : translate('report.house-reference', { distance: formatFigures(house.reference_seat_m, 3) }),
  ];
  return parts.filter((part) => part !== null).join(', ');
}
