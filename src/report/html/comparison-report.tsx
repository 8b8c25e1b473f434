/** Before and after as one self-contained document: what changed and how surely, beside the pictures of both. */
import { Overlay } from '../../drawings/overlay.tsx';
import { chooseArrowFactor } from '../../drawings/overlay-geometry.ts';
import { ChangeMark } from '../../drawings/verdict-mark.tsx';
import type { Comparison, TermChange } from '../../record/comparison.ts';
import type { Reading } from '../../record/reading.ts';
import { chooseCautions } from '../../wording/cautions.ts';
import {
  describeComparisonMethod,
  formatChange,
  formatDoubt,
  formatLightChange,
  formatStrayChange,
  translateComparison,
} from '../../wording/comparison.ts';
import { formatCameraTime, formatMoment } from '../../wording/date-time.ts';
import { nameField } from '../../wording/terms.ts';
import { translate } from '../../wording/translate.ts';
import { formatTurnMade } from '../../wording/turns.ts';
import { Cautions, Facts, List, Origin, renderDocument, Section } from './document.tsx';
import { Limits } from './evidence.tsx';
import { describeMoment, factIf, type KeptEntry, momentOf, nameRole } from './kept-facts.tsx';
import type { ReportPictures } from './pictures.ts';
import type { Paper } from './style.ts';

export interface ComparedSide {
  readonly kept: KeptEntry;
  readonly pictures: ReportPictures | undefined;
}

export interface ComparisonReport {
  readonly comparison: Comparison;
  readonly before: ComparedSide;
  readonly after: ComparedSide;
  readonly paper?: Paper | undefined;
}

export function renderComparisonReport(report: ComparisonReport): string {
  const { comparison, before, after, paper } = report;
  const title = translateComparison(comparison);
  const { entry } = after.kept;
  const house = entry.house?.name ?? translate('report.no-house');
  return renderDocument({
    title: `${title} ${translate('report.before-after')}`,
    body: <Body {...report} title={title} house={house} />,
    paper,
    running: {
      left: [translate('report.before-after'), house, entry.print].filter(Boolean).join(', '),
      right: formatMoment(momentOf(entry)),
      foot: translate('report.entries-foot', {
        before: before.kept.id.slice(0, 12),
        after: after.kept.id.slice(0, 12),
      }),
    },
  });
}

function Body({
  comparison,
  before,
  after,
  title,
  house,
}: ComparisonReport & { readonly title: string; readonly house: string }) {
  const { doubts, turns_made, terms, masking } = comparison;
  const factor = chooseCommonFactor([before, after].map(({ kept }) => kept.entry.reading));
  const { entry } = after.kept;
  return (
    <>
      <Origin kind={translate('report.kind-comparison')} facts={[house, formatMoment(momentOf(entry))]} />
      <main>
        <div className="lead">
          <h1>{title}</h1>
          <p className="why">
            {translate('report.by-limits', {
              before: translate(`parts.${comparison.before}`),
              after: translate(`parts.${comparison.after}`),
            })}
          </p>
        </div>
        {doubts.length > 0 && (
          <Section title={translate('report.notes')}>
            <List items={doubts.map((doubt) => formatDoubt(doubt))} />
          </Section>
        )}
        {turns_made.length > 0 && (
          <Section title={translate('report.turned-between')}>
            <List items={turns_made.map((turn) => formatTurnMade(turn, entry.house))} />
          </Section>
        )}
        <Section title={translate('report.changes')} note={translate('report.changes-note')} isWide>
          <Changes terms={terms} />
        </Section>
        {masking && (
          <Section title={translate('report.strays')}>
            <List items={[...masking.strays.map(formatStrayChange), ...masking.light.map(formatLightChange)]} />
          </Section>
        )}
        <Section title={translate('report.overlay')} note={translate('report.sides-note')} isWide>
          <div className="pair">
            <Side name={translate('report.before')} side={before} factor={factor} />
            <Side name={translate('report.after')} side={after} factor={factor} />
          </div>
        </Section>
        <SideFacts name={translate('report.before')} kept={before.kept} />
        <SideFacts name={translate('report.after')} kept={after.kept} />
        {entry.reading.outcome === 'measured' && <Limits findings={entry.reading.findings} />}
        <Section title={translate('report.method')}>
          <p>{translate('report.comparison-method')}</p>
        </Section>
        <Signature />
        <Cautions cautions={chooseCautions({ atProjector: true, atHeight: false })} />
      </main>
    </>
  );
}

function Changes({ terms }: { readonly terms: readonly TermChange[] }) {
  return (
    <>
      <div className="scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">{translate('report.figure')}</th>
              {[
                translate('report.before'),
                translate('report.after'),
                translate('report.change'),
                translate('report.by-chance'),
              ].map((head) => (
                <th key={head} scope="col" className="n">
                  {head}
                </th>
              ))}
              <th scope="col">{translate('report.verdict')}</th>
            </tr>
          </thead>
          <tbody>
            {terms.map((term) => {
              const { before, after, change, uncertainty } = formatChange(term);
              return (
                <tr key={term.field}>
                  <th scope="row">{nameField(term.field)}</th>
                  <td className="n">{before}</td>
                  <td className="n">{after}</td>
                  <td className="n">{`${change} ± ${uncertainty}`}</td>
                  <td className="n">{term.chance < 0.0001 ? '< 0.01 %' : `${(100 * term.chance).toPrecision(2)} %`}</td>
                  <td>
                    <ChangeMark term={term} />
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      <p className="note">
        {translate('report.units')} {describeComparisonMethod()}
      </p>
    </>
  );
}

/** One scale for both, that of the larger error: what got better looks better. */
function chooseCommonFactor(readings: readonly Reading[]): number {
  return Math.min(
    ...readings.map((reading) => (reading.outcome === 'measured' ? chooseArrowFactor(reading) : Infinity)),
  );
}

/** Room for whoever answers for it. */
function Signature() {
  return (
    <Section title={translate('report.signed')}>
      <div className="signature">
        {[translate('report.signed-name'), translate('report.signed-date'), translate('report.signature')].map(
          (what) => (
            <p key={what}>{what}</p>
          ),
        )}
      </div>
    </Section>
  );
}

interface SideProps {
  readonly name: string;
  readonly side: ComparedSide;
  readonly factor: number;
}

function Side({ name, side: { kept, pictures }, factor }: SideProps) {
  const { reading } = kept.entry;
  return (
    <div>
      <h3>{name}</h3>
      {reading.outcome === 'measured' && (
        <>
          <p>{reading.sentence}</p>
          <Overlay reading={reading} picture={pictures?.overlay ?? null} factor={factor} />
        </>
      )}
    </div>
  );
}

/** When the camera took the first of the photographs, by its own clock. */
function listTaken({ shots }: Reading) {
  const taken = shots.flatMap(({ taken_at }) => taken_at ?? []).toSorted()[0];
  return factIf(translate('report.taken'), taken && formatCameraTime(taken));
}

function SideFacts({ name, kept: { id, entry } }: { readonly name: string; readonly kept: KeptEntry }) {
  const { operator, print, reel, note, shots, software } = entry;
  return (
    <Section title={name}>
      <Facts
        facts={[
          [translate('report.entry'), <code key="id">{id}</code>],
          ...listTaken(entry.reading),
          ...factIf(translate('report.measured'), entry.reading.measured_at && formatMoment(entry.reading.measured_at)),
          [translate('report.kept'), describeMoment(entry)],
          ...factIf(translate('report.print'), print),
          ...factIf(translate('report.reel'), reel),
          ...factIf(translate('report.operator'), operator),
          ...factIf(translate('report.note'), note),
          ...shots.map(
            ({ role, name: file, sha256 }) =>
              [
                nameRole(role),
                <>
                  {file}
                  <br />
                  <code>SHA-256 {sha256}</code>
                </>,
              ] as const,
          ),
          [translate('report.software'), `${software.name} ${software.version}`],
        ]}
      />
    </Section>
  );
}
