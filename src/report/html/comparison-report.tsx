/** Before and after as one self-contained document: what changed and how surely, beside the pictures of both. */
import { Overlay } from '../../drawings/overlay.tsx';
import { ChangeMark } from '../../drawings/verdict-mark.tsx';
import type { Comparison, TermChange } from '../../record/comparison.ts';
import { chooseCautions } from '../../wording/cautions.ts';
import {
  describeComparisonMethod,
  formatChange,
  formatDoubt,
  formatLightChange,
  formatStrayChange,
  translateComparison,
} from '../../wording/comparison.ts';
import { formatMoment } from '../../wording/date-time.ts';
import { nameField } from '../../wording/terms.ts';
import { Cautions, Facts, List, Origin, renderDocument, Section } from './document.tsx';
import { Limits } from './evidence.tsx';
import { describeMoment, factIf, formatTurnMade, type KeptEntry, ROLES } from './kept-facts.tsx';
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
  const house = entry.house?.name ?? 'No house';
  return renderDocument({
    title: `${title} Before and after`,
    body: <Body {...report} title={title} house={house} />,
    paper,
    running: {
      left: ['Before and after', house, entry.print].filter(Boolean).join(', '),
      right: formatMoment(entry.saved_at),
      foot: `entries ${before.kept.id.slice(0, 12)} and ${after.kept.id.slice(0, 12)}`,
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
  const { entry } = after.kept;
  return (
    <>
      <Origin kind="Twinplumb before and after" facts={[house, formatMoment(entry.saved_at)]} />
      <main>
        <div className="lead">
          <h1>{title}</h1>
          <p className="why">
            By the working limits: {comparison.before} before, {comparison.after} after.
          </p>
        </div>
        {doubts.length > 0 && (
          <Section title="Notes">
            <List items={doubts.map((doubt) => formatDoubt(doubt))} />
          </Section>
        )}
        {turns_made.length > 0 && (
          <Section title="Turned between the two">
            <List items={turns_made.map(formatTurnMade)} />
          </Section>
        )}
        <Section title="What changed" note="Right-eye picture minus left-eye picture" isWide>
          <Changes terms={terms} />
        </Section>
        {masking && (
          <Section title="Stray copies">
            <List items={[...masking.strays.map(formatStrayChange), ...masking.light.map(formatLightChange)]} />
          </Section>
        )}
        <Section title="The two pictures" note="Before on the left, after on the right" isWide>
          <div className="pair">
            <Side name="Before" side={before} />
            <Side name="After" side={after} />
          </div>
        </Section>
        <SideFacts name="Before" kept={before.kept} />
        <SideFacts name="After" kept={after.kept} />
        {entry.reading.outcome === 'measured' && <Limits findings={entry.reading.findings} />}
        <Section title="Method">
          <p>
            The change of a figure is after minus before; its uncertainty is that of both readings together, which come
            from different photographs. A change is significant where chance would bring one as large in fewer than one
            of twenty pairs of readings of an unchanged machine; the twentieth is shared among all rows (Holm). Better
            is what lies nearer to zero by more than twice the uncertainty of the change.
          </p>
        </Section>
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
              <th scope="col">Figure</th>
              {['Before', 'After', 'Change ± 2 u', 'By chance'].map((head) => (
                <th key={head} scope="col" className="n">
                  {head}
                </th>
              ))}
              <th scope="col">Verdict</th>
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
      <p className="note">Percent of the picture height; roll in degrees. {describeComparisonMethod()}</p>
    </>
  );
}

function Side({ name, side: { kept, pictures } }: { readonly name: string; readonly side: ComparedSide }) {
  const { reading } = kept.entry;
  return (
    <div>
      <h3>{name}</h3>
      {reading.outcome === 'measured' && (
        <>
          <p>{reading.sentence}</p>
          <Overlay reading={reading} picture={pictures?.overlay ?? null} />
        </>
      )}
    </div>
  );
}

function SideFacts({ name, kept: { id, entry } }: { readonly name: string; readonly kept: KeptEntry }) {
  const { operator, print, reel, note, shots, software } = entry;
  return (
    <Section title={name}>
      <Facts
        facts={[
          ['Entry', <code key="id">{id}</code>],
          ['Kept', describeMoment(entry)],
          ...factIf('Print', print),
          ...factIf('Reel', reel),
          ...factIf('Operator', operator),
          ...factIf('Note', note),
          ...shots.map(
            ({ role, name: file, sha256 }) =>
              [
                ROLES[role],
                <>
                  {file}
                  <br />
                  <code>SHA-256 {sha256}</code>
                </>,
              ] as const,
          ),
          ['Software', `${software.name} ${software.version}`],
        ]}
      />
    </Section>
  );
}
