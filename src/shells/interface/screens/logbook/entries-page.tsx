/** What is kept, newest first, and what is not kept yet. */
import { useState } from 'react';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { Failure } from '../../../../contract/failures.ts';
import type { LogbookList, LogbookOverview } from '../../../../contract/logbook.ts';
import type { Workspace } from '../../../../contract/workspace.ts';
import { VerdictMark } from '../../../../drawings/verdict-mark.tsx';
import { OVERALL_VERDICTS } from '../../../../record/values.ts';
import { formatDateTime } from '../../../../wording/date-time.ts';
import { translate } from '../../../../wording/translate.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { Field, ListChoice } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { SaveButtons } from '../../parts/save-buttons.tsx';
import { KeepForm } from './keep-form.tsx';
import { addressOfPlace, asQuery, EMPTY_QUERY, isAsking, listOffers, type QueryForm } from './logbook-place.ts';
import { useAnswer } from './use-logbook.ts';

interface EntriesPageProps {
  readonly host: Host;
  readonly workspace: Workspace;
  readonly overview: LogbookOverview;
  /** Changes when something may have been kept meanwhile. */
  readonly version: string;
  readonly onKept: () => void;
}

export function EntriesPage({ host, workspace, overview, version, onKept }: EntriesPageProps) {
  const [form, setForm] = useState<QueryForm>(EMPTY_QUERY);
  const [isOpen, setOpen] = useState(false);
  const [notices, setNotices] = useState<readonly Failure[]>([]);
  const query = asQuery(form);
  const known = `${version} ${overview.entries}`;
  const { value: list, failure } = useAnswer(host, 'logbook.list', query, known);
  const { value: all } = useAnswer(host, 'logbook.list', {}, known);
  const offers = listOffers(workspace.rounds);
  const [offer] = offers;
  return (
    <>
      <h1>{translate('logbook.title', { count: overview.entries })}</h1>
      {notices.map(({ code, message, remedy }) => (
        <Notice key={code} kind="note" message={message} remedy={remedy} />
      ))}
      {offer && !isOpen && (
        <div className="logbook-offer">
          <p>
            <strong>{translate('logbook.not-kept', { round: offer.round.number })}</strong> {offer.round.sentence}
          </p>
          <Button kind="main" onClick={() => setOpen(true)}>
            {translate('logbook.keep-this')}
          </Button>
        </div>
      )}
      {offer && isOpen && all && (
        <KeepForm
          key={offer.round.number}
          {...{ host, offers, overview }}
          entries={all.entries}
          onKept={(given) => {
            setOpen(false);
            setNotices(given);
            onKept();
          }}
        />
      )}
      {overview.entries === 0 && !offer && <p className="logbook-prose">{translate('logbook.empty')}</p>}
      {overview.entries > 0 && (
        <>
          <Search form={form} overview={overview} onChange={setForm} />
          {failure && <Notice kind="problem" message={failure.message} remedy={failure.remedy} />}
          {list && (
            <>
              <p className="logbook-about" role="status">
                {isAsking(form) ? translate('logbook.found', { count: list.found }) : ''}
                {list.found > list.entries.length
                  ? ` ${translate('logbook.found-shown', { shown: list.entries.length })}`
                  : ''}
              </p>
              <EntryList list={list} />
            </>
          )}
          <SaveButtons
            host={host}
            orders={[{ label: translate('logbook.list-csv'), address: ADDRESSES.logbook.list(query) }]}
          />
        </>
      )}
    </>
  );
}

/** Entries in short, newest first, and the fields that narrow them down. */

interface SearchProps {
  readonly form: QueryForm;
  readonly overview: LogbookOverview;
  readonly onChange: (form: QueryForm) => void;
}

function Search({ form, overview, onChange }: SearchProps) {
  const set = (change: Partial<QueryForm>) => onChange({ ...form, ...change });
  const names = (all: readonly string[], every: string) => [
    { value: '', label: every },
    ...all.map((name) => ({ value: name, label: name })),
  ];
  return (
    <search className="logbook-search">
      <Field label={translate('logbook.words')} value={form.text} onChange={(text) => set({ text })} />
      <ListChoice
        label={translate('logbook.house')}
        options={names(overview.houses, translate('logbook.every-house'))}
        value={form.house}
        onChange={(house) => set({ house })}
      />
      <ListChoice
        label={translate('logbook.print')}
        options={names(overview.prints, translate('logbook.every-print'))}
        value={form.print}
        onChange={(print) => set({ print })}
      />
      <ListChoice
        label={translate('logbook.verdict')}
        options={[
          { value: '', label: translate('logbook.every-verdict') },
          ...OVERALL_VERDICTS.map((value) => ({
            value,
            label: translate(`parts.${value}`),
          })),
        ]}
        value={form.verdict}
        onChange={(verdict) => set({ verdict })}
      />
      <Day label={translate('logbook.from')} value={form.from} onChange={(from) => set({ from })} />
      <Day label={translate('logbook.to')} value={form.to} onChange={(to) => set({ to })} />
      <label className="logbook-check">
        <input
          type="checkbox"
          checked={form.withReplaced}
          onChange={(event) => set({ withReplaced: event.target.checked })}
        />
        {translate('logbook.with-replaced')}
      </label>
    </search>
  );
}

interface DayProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}

function Day({ label, value, onChange }: DayProps) {
  return (
    <label className="part-field">
      <span className="part-field-label">{label}</span>
      <input type="date" value={value} onChange={(event) => onChange(event.target.value)} />
    </label>
  );
}

function EntryList({ list }: { readonly list: LogbookList }) {
  const dates = new Map(list.entries.map(({ id, saved_at }) => [id, saved_at]));
  return (
    <ol className="logbook-list">
      {list.entries.map(({ id, saved_at, sentence, verdict, house, print, reel, operator, follows }) => (
        <li key={id}>
          <a href={addressOfPlace({ view: 'entry', id })} className="logbook-line">
            <span className="logbook-when">{formatDateTime(saved_at)}</span>
            <span className="logbook-what">
              <strong>{sentence}</strong>
              <span className="logbook-about">
                {[house, print, reel && translate('logbook.reel-named', { reel }), operator]
                  .filter(Boolean)
                  .join(' · ')}
              </span>
              {follows !== null && (
                <span className="logbook-about">
                  {dates.has(follows)
                    ? translate('logbook.after-of', { when: formatDateTime(dates.get(follows)!) })
                    : translate('logbook.after-other')}
                </span>
              )}
            </span>
            <span className="logbook-verdict">
              {verdict === null ? translate('logbook.refused') : <VerdictMark verdict={verdict} />}
            </span>
          </a>
        </li>
      ))}
    </ol>
  );
}
