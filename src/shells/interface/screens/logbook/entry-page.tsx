/** One entry: its sentence, its photographs and figures, what it is linked with, what was added, and what can be handed out. */
import { useState } from 'react';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { LogbookEntry, LogbookList, Paper } from '../../../../contract/logbook.ts';
import { limitBands } from '../../../../record/limit-bands.ts';
import type { MeasuredReading } from '../../../../record/reading.ts';
import { REPORTED_FIELDS } from '../../../../record/term-fields.ts';
import { formatDateTime } from '../../../../wording/date-time.ts';
import { nameFigure, unitOfFigure } from '../../../../wording/terms.ts';
import { decimalsForUncertainty, formatGiven, formatNumber, formatSigned } from '../../../../wording/numbers.ts';
import { formatTurnMade } from '../../../../wording/turns.ts';
import { translate } from '../../../../wording/translate.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { ListChoice } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { EntryPhotographs, ExportButtons } from './entry-parts.tsx';
import { useAnswer } from './use-logbook.ts';
import { addressOfPlace } from './logbook-place.ts';
import { NoteForm } from './note-form.tsx';

interface EntryPageProps {
  readonly host: Host;
  readonly id: string;
  /** Changes when something may have been kept meanwhile. */
  readonly version: string;
  readonly paper: Paper;
  readonly onPaper: (paper: Paper) => void;
  readonly onExport: (id: string) => void;
}

export function EntryPage({ host, id, version, paper, onPaper, onExport }: EntryPageProps) {
  const { value: found, failure, again } = useAnswer(host, 'logbook.show', { id }, version);
  const { value: list } = useAnswer(host, 'logbook.list', {}, version);
  if (failure && !found) return <Notice kind="problem" message={failure.message} remedy={failure.remedy} />;
  if (!found) return <p role="status">{translate('logbook.opening')}</p>;
  const { entry, additions } = found;
  const { reading } = entry;
  return (
    <article className="logbook-entry">
      <header className="logbook-head">
        <h1>{reading.outcome === 'measured' ? reading.sentence : reading.refusal.message}</h1>
        <p className="logbook-about">
          {[formatDateTime(entry.saved_at), entry.house?.name, entry.print].filter(Boolean).join(' · ')}
        </p>
      </header>
      {found.replaced_by.length > 0 && (
        <Notice kind="note" message={translate('logbook.was-corrected')}>
          {found.replaced_by.map((other) => (
            <a key={other} href={addressOfPlace({ view: 'entry', id: other })}>
              {translate('logbook.see-correction')}
            </a>
          ))}
        </Notice>
      )}
      <ComparedWith found={found} others={list?.entries ?? []} />
      <EntryPhotographs shots={entry.shots} />
      <div className="logbook-halves">
        <section>
          <h2>{translate('logbook.figures')}</h2>
          {reading.outcome === 'measured' ? <Figures reading={reading} /> : <p>{reading.refusal.remedy}</p>}
        </section>
        <section>
          <h2>{translate('logbook.facts')}</h2>
          <Facts found={found} />
        </section>
      </div>
      <section>
        <h2>{translate('logbook.added')}</h2>
        <ul className="logbook-additions">
          {additions.map(({ id: own, addition }) => (
            <li key={own}>
              <p className="logbook-about">
                {[formatDateTime(addition.saved_at), addition.by].filter(Boolean).join(' · ')}
              </p>
              {addition.note && <p>{addition.note}</p>}
              {addition.photographs.map(({ sha256, name }) => (
                <img key={sha256} src={ADDRESSES.logbook.photograph(sha256, 600)} alt={name} loading="lazy" />
              ))}
            </li>
          ))}
        </ul>
        <NoteForm host={host} entry={id} onAdded={again} />
      </section>
      <ExportButtons
        host={host}
        paper={paper}
        onPaper={onPaper}
        orders={[
          { label: translate('logbook.report-pdf'), address: ADDRESSES.logbook.entry(id, 'report.pdf', paper) },
          { label: translate('logbook.report-html'), address: ADDRESSES.logbook.entry(id, 'report.html', paper) },
          { label: translate('logbook.entry-json'), address: ADDRESSES.logbook.entry(id, 'entry.json') },
        ]}
      >
        <div className="logbook-row">
          <Button onClick={() => onExport(id)}>{translate('logbook.export')}</Button>
          <span className="logbook-about">{translate('logbook.export-what')}</span>
        </div>
      </ExportButtons>
    </article>
  );
}

interface ComparedWithProps {
  readonly found: LogbookEntry;
  readonly others: LogbookList['entries'];
}

function ComparedWith({ found, others }: ComparedWithProps) {
  const { id, entry } = found;
  const { follows } = entry;
  const choices = others.filter((other) => other.id !== id && other.outcome === 'measured');
  const [chosen, setChosen] = useState('');
  if (entry.reading.outcome !== 'measured' || choices.length === 0) return null;
  const before = chosen || follows || choices[0]!.id;
  return (
    <div className="logbook-compare">
      <ListChoice
        label={translate('logbook.compare-with')}
        options={choices.map((other) => ({
          value: other.id,
          label: `${formatDateTime(other.saved_at)}: ${other.sentence}${other.id === follows ? ` (${translate('logbook.it-follows')})` : ''}`,
        }))}
        value={before}
        onChange={setChosen}
      />
      <Button
        kind="main"
        onClick={() => {
          location.hash = addressOfPlace({ view: 'pair', before, after: id });
        }}
      >
        {translate('logbook.compare')}
      </Button>
    </div>
  );
}

function Facts({ found: { id, entry, followed_by } }: { readonly found: LogbookEntry }) {
  const facts: readonly (readonly [string, string | null | undefined])[] = [
    [translate('logbook.operator'), entry.operator],
    [translate('logbook.print'), entry.print],
    [translate('logbook.reel'), entry.reel],
    [translate('logbook.note'), entry.note],
    [translate('logbook.turned'), entry.turns_made.map((turn) => formatTurnMade(turn, entry.house)).join('; ')],
    [translate('logbook.house'), entry.house?.name ?? translate('logbook.no-house')],
    [
      translate('logbook.kept-at'),
      `${entry.saved_at.replace('T', ' ')}${entry.zone === null ? '' : ` (${entry.zone})`}`,
    ],
    [translate('logbook.version'), `${entry.software.name} ${entry.software.version}`],
    [translate('logbook.correction-of'), entry.replaces?.reason],
  ];
  return (
    <dl className="logbook-facts">
      {facts.map(([name, value]) =>
        value ? (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ) : null,
      )}
      {followed_by.map((after) => (
        <div key={after}>
          <dt>{translate('logbook.measured-later')}</dt>
          <dd>
            <a href={addressOfPlace({ view: 'pair', before: id, after })}>{translate('logbook.see-pair')}</a>
          </dd>
        </div>
      ))}
      <div>
        <dt>{translate('logbook.name-of-entry')}</dt>
        <dd>
          <code>{id}</code>
        </dd>
      </div>
    </dl>
  );
}

/** The figures of one reading, each with its 95 % interval and the band that it had to lie in. */

const FIELDS = [...REPORTED_FIELDS, 'crosstalk_left_pct', 'crosstalk_right_pct'] as const;

function Figures({ reading }: { readonly reading: MeasuredReading }) {
  const bands = limitBands(reading);
  return (
    <table className="logbook-table">
      <thead>
        <tr>
          <th scope="col">{translate('logbook.figure')}</th>
          <th scope="col" className="logbook-number">
            {translate('logbook.value')}
          </th>
          <th scope="col" className="logbook-number">
            {translate('logbook.limit')}
          </th>
        </tr>
      </thead>
      <tbody>
        {FIELDS.map((field) => {
          const figure =
            field === 'crosstalk_left_pct' || field === 'crosstalk_right_pct'
              ? reading.eyes[field]
              : reading.misalignment[field];
          if (!figure) return null;
          const { value, u } = figure;
          const decimals = decimalsForUncertainty(2 * u);
          const unit = unitOfFigure(field);
          const band = bands[field];
          const limit = band && Math.max(Math.abs(band.low ?? 0), Math.abs(band.high ?? 0));
          return (
            <tr key={field}>
              <th scope="row">{nameFigure(field)}</th>
              <td className="logbook-number">
                {formatSigned(value, decimals)} ± {formatNumber(2 * u, decimals)} {unit}
              </td>
              <td className="logbook-number">
                {limit === undefined
                  ? translate('logbook.no-limit')
                  : `${formatGiven(Number(limit.toPrecision(2)))} ${unit}`}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
