/** The logbook: what was kept, found again, compared, followed over time and proved. */
import { useEffect, useRef, useState } from 'react';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { Failure } from '../../../../contract/failures.ts';
import type { LogbookOverview, Paper } from '../../../../contract/logbook.ts';
import { FailureNotice, Notice } from '../../parts/notice.tsx';
import { translate } from '../../../../wording/translate.ts';
import { CarePage, ChooseFolder } from './care-page.tsx';
import { EntriesPage } from './entries-page.tsx';
import { EntryPage } from './entry-page.tsx';
import { addressOfPlace } from './logbook-place.ts';
import { PairPage } from './pair-page.tsx';
import { saveFile } from '../../parts/save-buttons.tsx';
import { TrendsPage } from './trends-page.tsx';
import { useAnswer, useLogbookJobs, usePlace } from './use-logbook.ts';
import './logbook.css';

export function LogbookScreen({ host, workspace }: ScreenProps) {
  const place = usePlace();
  const jobs = useLogbookJobs(host, workspace);
  const keptRounds = workspace.rounds.map(({ kept_as }) => kept_as ?? '').join();
  const version = `${jobs.ended} ${keptRounds}`;
  const { value: overview, failure, again } = useAnswer(host, 'logbook.read', {}, version);
  const [paper, setPaper] = useState<Paper>(workspace.settings.units === 'inch' ? 'letter' : 'a4');
  const [problem, setProblem] = useState<Failure>();

  /** The export that this page asked for is handed out as soon as it is made. */
  const awaited = useRef<number | undefined>(undefined);
  const { exported } = jobs;
  useEffect(() => {
    if (exported === undefined || exported !== awaited.current) return;
    awaited.current = undefined;
    void saveFile(host, ADDRESSES.logbook.bundle(exported)).then(setProblem);
  }, [host, exported]);
  const exportEntry = async (id: string) => {
    const outcome = await host.call('logbook.export', { id });
    if (outcome.ok) awaited.current = outcome.value.job;
  };

  const told = failure ?? overview?.failure ?? problem;
  if (!overview) return told ? <CameraProblem failure={told} /> : <p role="status">{translate('logbook.opening')}</p>;
  if (overview.folder === null || overview.failure) {
    return <NoLogbook host={host} overview={overview} onChosen={again} />;
  }
  const papers = { paper, onPaper: setPaper };
  return (
    <div className="logbook">
      <nav className="logbook-nav" aria-label={translate('logbook.places')}>
        {(['entries', 'trends', 'care'] as const).map((view) => (
          <a key={view} href={addressOfPlace({ view })} aria-current={place.view === view ? 'page' : undefined}>
            {translate(`logbook.${view}`)}
          </a>
        ))}
        <span className="logbook-about logbook-path">{overview.folder}</span>
      </nav>
      {told && <CameraProblem failure={told} />}
      {overview.notices.map(({ code, message, remedy }) => (
        <Notice key={`${code} ${message}`} kind="note" message={message} remedy={remedy} />
      ))}
      {place.view === 'entries' && <EntriesPage {...{ host, workspace, overview, version }} onKept={again} />}
      {place.view === 'entry' && (
        <EntryPage key={place.id} {...{ host, ...papers }} id={place.id} version={version} onExport={exportEntry} />
      )}
      {place.view === 'pair' && <PairPage {...{ host, ...papers }} before={place.before} after={place.after} />}
      {place.view === 'trends' && <TrendsPage {...{ host, overview, ...papers }} />}
      {place.view === 'care' && (
        <CarePage {...{ host, overview }} results={jobs.results} isBusy={jobs.isBusy} onChosen={again} />
      )}
    </div>
  );
}

function CameraProblem({ failure }: { readonly failure: Failure }) {
  return <FailureNotice failure={failure} />;
}

interface NoLogbookProps {
  readonly host: ScreenProps['host'];
  readonly overview: LogbookOverview;
  readonly onChosen: () => void;
}

/** None is chosen yet, or it cannot be opened now. */
function NoLogbook({ host, overview, onChosen }: NoLogbookProps) {
  const isFirst = overview.folder === null;
  return (
    <div className="logbook logbook-none">
      <h1>{translate(isFirst ? 'logbook.none' : 'logbook.shut')}</h1>
      {overview.failure ? (
        <CameraProblem failure={overview.failure} />
      ) : (
        <p className="logbook-prose">{translate('logbook.none-what')}</p>
      )}
      <ChooseFolder host={host} overview={overview} onChosen={onChosen} />
    </div>
  );
}
