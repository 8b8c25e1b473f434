/** Caring for the logbook: is everything as it was kept, what others handed over, where it lies. */
import { useRef, useState } from 'react';
import type { Failure } from '../../../../contract/failures.ts';
import type { LogbookOverview, LogbookResult, NamedFault } from '../../../../contract/logbook.ts';
import { translate } from '../../../../wording/translate.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { Field, FileInput } from '../../parts/field.tsx';
import { FailureNotice, Notice } from '../../parts/notice.tsx';
import { addressOfPlace } from './logbook-place.ts';

interface CarePageProps {
  readonly host: Host;
  readonly overview: LogbookOverview;
  /** What the last work of each kind came to. */
  readonly results: readonly LogbookResult[];
  readonly isBusy: boolean;
  readonly onChosen: () => void;
}

export function CarePage({ host, overview, results, isBusy, onChosen }: CarePageProps) {
  const input = useRef<HTMLInputElement>(null);
  const [failure, setFailure] = useState<Failure>();
  const whyNot = isBusy ? translate('logbook.busy') : undefined;
  const take = async (file: File | undefined) => {
    if (!file) return;
    const outcome = await host.importBundle(file);
    setFailure(outcome.ok ? undefined : outcome.failure);
  };
  const find = <K extends LogbookResult['kind']>(kind: K) =>
    results.find((result): result is Extract<LogbookResult, { kind: K }> => result.kind === kind);
  const [verified, imported] = [find('verify'), find('import')];
  return (
    <article className="logbook-entry">
      <h1>{translate('logbook.care-title')}</h1>
      <section>
        <h2>{translate('logbook.verify')}</h2>
        <p className="logbook-prose">{translate('logbook.verify-what')}</p>
        <div className="logbook-row">
          <Button kind="main" whyNot={whyNot} onClick={() => void host.call('logbook.verify', { is_quick: false })}>
            {translate('logbook.verify-all')}
          </Button>
          <Button onClick={() => void host.call('logbook.verify', { is_quick: true })} whyNot={whyNot}>
            {translate('logbook.verify-quick')}
          </Button>
        </div>
        <div role="status">
          {verified && (
            <>
              <p className="logbook-result">
                {verified.faults === 0
                  ? translate('logbook.verified-sound')
                  : translate('logbook.verified-faults', { count: verified.faults })}
              </p>
              <p className="logbook-about">
                {translate('logbook.verified-counts', {
                  entries: verified.entries,
                  additions: verified.additions,
                  photographs: verified.photographs,
                  remeasured: verified.remeasured,
                })}
              </p>
              <Faults problems={verified.problems} />
            </>
          )}
        </div>
      </section>
      <section>
        <h2>{translate('logbook.import')}</h2>
        <p className="logbook-prose">{translate('logbook.import-what')}</p>
        <div className="logbook-row">
          <Button onClick={() => input.current!.click()} whyNot={whyNot}>
            {translate('logbook.import-choose')}
          </Button>
          <FileInput input={input} accept=".zip,application/zip" onFiles={([file]) => void take(file)} />
        </div>
        {failure && <FailureNotice failure={failure} />}
        <div role="status">{imported && <Imported result={imported} />}</div>
      </section>
      <section>
        <h2>{translate('logbook.where')}</h2>
        <ChooseFolder host={host} overview={overview} onChosen={onChosen} />
      </section>
    </article>
  );
}

function Imported({ result }: { readonly result: Extract<LogbookResult, { kind: 'import' }> }) {
  const { name, entry, kept, known, photographs, faults, problems } = result;
  if (entry === null) {
    return (
      <>
        <p className="logbook-result">{translate('logbook.import-unsound', { name, count: faults })}</p>
        <Faults problems={problems} />
      </>
    );
  }
  return (
    <p className="logbook-result">
      {kept === 0
        ? translate('logbook.import-known', { name })
        : translate('logbook.import-done', { name, kept, known, photographs })}{' '}
      <a href={addressOfPlace({ view: 'entry', id: entry })}>{translate('logbook.see-entry')}</a>
    </p>
  );
}

function Faults({ problems }: { readonly problems: readonly NamedFault[] }) {
  if (problems.length === 0) return null;
  return (
    <ul className="logbook-faults">
      {problems.map(({ code, id, file, message, remedy }) => (
        <li key={`${code} ${id} ${file}`}>
          <strong>{message}</strong> {remedy}
          <span className="logbook-about">{[file, id?.slice(0, 12)].filter(Boolean).join(' · ')}</span>
        </li>
      ))}
    </ul>
  );
}

/** Where the logbook lies: a folder is opened where there is a logbook in it, and one is begun only when that is asked for. */

interface ChooseFolderProps {
  readonly host: Host;
  readonly overview: LogbookOverview;
  readonly onChosen: () => void;
}

export function ChooseFolder({ host, overview, onChosen }: ChooseFolderProps) {
  const [folder, setFolder] = useState(overview.folder ?? overview.usual_folder);
  const [failure, setFailure] = useState<Failure>();
  const choose = async (create: boolean) => {
    const outcome = await host.call('logbook.choose-folder', { folder: folder.trim(), create });
    setFailure(outcome.ok ? undefined : outcome.failure);
    if (outcome.ok) onChosen();
  };
  const whyNot = folder.trim() === '' ? translate('logbook.folder-needed') : undefined;
  const isMissing = failure?.code === 'logbook-missing';
  return (
    <div className="logbook-choose">
      <Field
        label={translate('logbook.folder')}
        value={folder}
        onChange={(text) => {
          setFolder(text);
          setFailure(undefined);
        }}
        hint={translate('logbook.folder-hint')}
      />
      {failure && !isMissing && <FailureNotice failure={failure} />}
      {isMissing && (
        <Notice
          kind="note"
          isUrgent
          message={translate('logbook.nothing-there')}
          remedy={translate('logbook.nothing-there-do')}
        >
          <div className="logbook-row">
            <Button kind="main" onClick={() => void choose(true)}>
              {translate('logbook.begin')}
            </Button>
          </div>
        </Notice>
      )}
      {!isMissing && (
        <div className="logbook-row">
          <Button kind={overview.folder === null ? 'main' : 'plain'} onClick={() => void choose(false)} whyNot={whyNot}>
            {translate('logbook.open')}
          </Button>
        </div>
      )}
    </div>
  );
}
