/** What is kept, newest first, and what is not kept yet. */
import { useState } from 'react';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { Failure } from '../../../../contract/failures.ts';
import type { LogbookOverview } from '../../../../contract/logbook.ts';
import type { Workspace } from '../../../../contract/workspace.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { Notice } from '../../parts/notice.tsx';
import { translate } from '../../../../wording/translate.ts';
import { EntryList, Search } from './entry-list.tsx';
import { KeepForm } from './keep-form.tsx';
import { asQuery, EMPTY_QUERY, isAsking, type QueryForm } from './query-form.ts';
import { SaveButtons } from '../../parts/save-buttons.tsx';
import { listOffers } from './unkept-round.ts';
import { useAnswer } from './use-answer.ts';

export interface EntriesPageProps {
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
