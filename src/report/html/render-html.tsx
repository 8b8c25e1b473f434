/**
 * A reading as one self-contained HTML document: nothing is loaded from anywhere, nothing runs. The sentence first,
 * then the verdicts, then what to do with the cautions beside it, then the numbers and the evidence.
 */
import { Overlay } from '../../drawings/overlay.tsx';
import { VerdictShape } from '../../drawings/verdict-mark.tsx';
import type { EvennessRecord } from '../../record/evenness.ts';
import { judgeOverall, mostSevereByCode } from '../../record/judge-reading.ts';
import type { MeasuredReading, Reading, RefusedReading } from '../../record/reading.ts';
import type { AnsweredCheck } from '../../wording/causes.ts';
import { formatMoment } from '../../wording/date-time.ts';
import { describeFinding, formatFinding, formatVerdict } from '../../wording/findings.ts';
import { summariseLight } from '../../wording/light.ts';
import { translate } from '../../wording/translate.ts';
import { Causes, Incurable, Turns } from './advice.tsx';
import { Cautions, Facts, List, Origin, renderDocument, Section } from './document.tsx';
import { Budgets, Evidence, Eyes, Limits, listShotFacts, Method, Misalignment } from './evidence.tsx';
import { Kept, type KeptEntry } from './kept-facts.tsx';
import type { ReportPictures } from './pictures.ts';
import type { Paper } from './style.ts';

/** Characters from which the sentence is set smaller, to stay in sight with the verdicts. */
const LONG_SENTENCE = 120;

export interface ReportOptions {
  readonly paper?: Paper | undefined;
  /** Light of the same photographs, where it was measured. */
  readonly light?: EvennessRecord | undefined;
  /** Checks whose answers the causes are weighed with. */
  readonly answered?: readonly AnsweredCheck[] | undefined;
  /** The entry of the logbook that holds this reading. */
  readonly kept?: KeptEntry | undefined;
}

export function renderHtmlReport(reading: Reading, pictures?: ReportPictures, options: ReportOptions = {}): string {
  const { paper, kept } = options;
  const isMeasured = reading.outcome === 'measured';
  const house = isMeasured && !reading.house.assumed ? reading.house.name : null;
  const at = kept?.entry.saved_at ?? reading.measured_at;
  return renderDocument({
    title: isMeasured ? reading.sentence : reading.refusal.message,
    body: isMeasured ? (
      <Measured reading={reading} pictures={pictures} options={options} />
    ) : (
      <Refused reading={reading} options={options} />
    ),
    paper,
    running: {
      left: [house, kept?.entry.print].filter(Boolean).join(', ') || translate('report.kind-reading'),
      right: at === undefined ? '' : formatMoment(at),
      foot: `${reading.software.name} ${reading.software.version}${kept ? `, ${translate('report.entry-foot', { id: kept.id.slice(0, 12) })}` : ''}`,
    },
  });
}

interface MeasuredProps {
  readonly reading: MeasuredReading;
  readonly pictures: ReportPictures | undefined;
  readonly options: ReportOptions;
}

function Measured({ reading, pictures, options: { kept, answered, light } }: MeasuredProps) {
  const { sentence, warnings } = reading;
  return (
    <>
      <Origin kind={translate('report.kind-reading')} facts={[reading.house.name, momentOf(reading)]} />
      <main>
        <div className="lead">
          <h1 className={sentence.length > LONG_SENTENCE ? 'long' : undefined}>{sentence}</h1>
          <p className="overall">
            <VerdictShape verdict={judgeOverall(reading)} />
            {translate('report.overall', { verdict: translate(`parts.${judgeOverall(reading)}`) })}
          </p>
          <Verdicts reading={reading} />
        </div>
        {warnings.length > 0 && (
          <Section title={translate('report.notes')}>
            <List items={warnings.map(({ message }) => message)} />
          </Section>
        )}
        <Turns reading={reading} />
        <Incurable reading={reading} />
        <Causes causes={reading.causes} next={reading.next_check} answered={answered} />
        <Cautions cautions={reading.cautions} />
        <Section title={translate('report.overlay')} note={translate('report.overlay-note')}>
          <Overlay reading={reading} picture={pictures?.overlay ?? null} />
        </Section>
        <Misalignment reading={reading} />
        <Eyes reading={reading} />
        {light && (
          <Section title={translate('report.light')} note={translate('report.light-note')}>
            {summariseLight(light).map((each) => (
              <p key={each}>{each}</p>
            ))}
          </Section>
        )}
        <Evidence crops={pictures?.crops ?? []} />
        <Limits findings={reading.findings} />
        <Budgets reading={reading} />
        <Method reading={reading} />
        {kept && <Kept kept={kept} />}
      </main>
    </>
  );
}

function Verdicts({ reading: { findings } }: { readonly reading: MeasuredReading }) {
  return (
    <ul className="verdicts">
      {mostSevereByCode(findings).map((finding) => (
        <li key={finding.code}>
          <VerdictShape verdict={finding.verdict} />
          <div>
            <b>{`${describeFinding(finding.code).name}: ${formatVerdict(finding)}`}</b>
            <span>{formatFinding(finding)}</span>
          </div>
        </li>
      ))}
    </ul>
  );
}

function Refused({ reading, options }: { readonly reading: RefusedReading; readonly options: ReportOptions }) {
  const { refusal, causes = [], next_check, cautions } = reading;
  return (
    <>
      <Origin kind={translate('report.kind-reading')} facts={[momentOf(reading)]} />
      <main>
        <div className="lead">
          <h1>{refusal.message}</h1>
          <p className="why">{refusal.remedy}</p>
        </div>
        <Section title={translate('report.refused')} note={translate('report.refused-note')}>
          <Facts
            facts={[
              [translate('report.code'), refusal.code],
              ...Object.entries(refusal.facts).map(([name, value]) => [name, String(value)] as const),
              ...listShotFacts(reading),
            ]}
          />
        </Section>
        <Causes causes={causes} next={next_check} answered={options.answered} />
        {cautions && <Cautions cautions={cautions} />}
        {options.kept && <Kept kept={options.kept} />}
      </main>
    </>
  );
}

const momentOf = ({ measured_at }: Reading): string | null =>
  measured_at === undefined ? null : formatMoment(measured_at);
