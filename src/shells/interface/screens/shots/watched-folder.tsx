/** A folder whose new photographs come in by themselves: chosen here, and what became of the last one. */
import { useEffect, useRef, useState } from 'react';
import type { Failure } from '../../../../contract/failures.ts';
import type { FolderList, FolderWatchState } from '../../../../contract/watch.ts';
import { translate } from '../../../../wording/translate.ts';
import { formatSlot } from '../../camera/gauges.tsx';
import { findBridge } from '../../frame/use-host-link.ts';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { Button } from '../../parts/button.tsx';
import { Dialog } from '../../parts/dialog.tsx';
import { FailureNotice, Notice } from '../../parts/notice.tsx';
import { playOutcome } from '../booth/use-booth.ts';

export function WatchedFolder({ host, workspace: { watch } }: ScreenProps) {
  const [list, setList] = useState<FolderList | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);
  const open = async (folder: string | null) => {
    const outcome = await host.call('folders.list', { folder });
    if (outcome.ok) setList(outcome.value);
    setFailure(outcome.ok ? null : outcome.failure);
  };
  const begin = async (folder: string) => {
    setList(null);
    const outcome = await host.call('watch.start', { folder });
    setFailure(outcome.ok ? null : outcome.failure);
  };
  const choose = async () => {
    const chosen = await findBridge()?.chooseFolder();
    if (!chosen) await open(watch?.folder ?? null);
    else if (chosen.ok && chosen.value !== null) await begin(chosen.value);
    else if (!chosen.ok) setFailure(chosen.failure);
  };
  return (
    <section className="shots-watch" aria-label={translate('shots.way-folder')}>
      <p className="shots-watch-what">
        {watch ? translate('shots.watch-on', { folder: watch.folder }) : translate('shots.watch-off')}
      </p>
      <div className="shots-action">
        <Button kind={watch ? 'plain' : 'main'} onClick={() => void choose()}>
          {translate(watch ? 'shots.watch-other' : 'shots.watch-choose')}
        </Button>
        {watch && <Button onClick={() => void host.call('watch.stop', {})}>{translate('shots.watch-stop')}</Button>}
      </div>
      {failure && <FailureNotice failure={failure} onDismiss={() => setFailure(null)} />}
      {watch && !watch.is_there && (
        <Notice
          kind="problem"
          isUrgent
          message={translate('shots.watch-gone')}
          remedy={translate('shots.watch-gone-remedy')}
        />
      )}
      <p className="shots-watch-last" role="status">
        {watch?.last && formatWatched(watch.last)}
      </p>
      {list && <FolderDialog list={list} onOpen={open} onChoose={begin} onClose={() => setList(null)} />}
    </section>
  );
}

/** What became of the last photograph that came in by itself. */
export function formatWatched({ name, outcome, slot, message }: NonNullable<FolderWatchState['last']>): string {
  const said = translate(`shots.watched-${outcome}`, { name, slot: slot === null ? 'none' : formatSlot(slot) });
  return message === null ? said : `${said} ${message}`;
}

interface FolderDialogProps {
  readonly list: FolderList;
  readonly onOpen: (folder: string) => Promise<void>;
  readonly onChoose: (folder: string) => Promise<void>;
  readonly onClose: () => void;
}

const nameOf = (path: string): string => path.split(/[/\\]/).findLast((part) => part !== '') ?? path;

function FolderDialog({ list: { folder, parent, folders }, onOpen, onChoose, onClose }: FolderDialogProps) {
  return (
    <Dialog
      title={translate('shots.folder-which')}
      onClose={onClose}
      answers={
        <>
          <Button kind="main" onClick={() => void onChoose(folder)}>
            {translate('shots.folder-this')}
          </Button>
          <Button kind="quiet" onClick={onClose}>
            {translate('shots.folder-none')}
          </Button>
        </>
      }
    >
      <p className="shots-folder-here">{folder}</p>
      <ul className="shots-folders">
        {parent !== null && (
          <li>
            <Button kind="quiet" onClick={() => void onOpen(parent)}>
              {translate('shots.folder-up')}
            </Button>
          </li>
        )}
        {folders.map((path) => (
          <li key={path}>
            <Button kind="quiet" onClick={() => void onOpen(path)}>
              {nameOf(path)}
            </Button>
          </li>
        ))}
      </ul>
      {folders.length === 0 && <p>{translate('shots.folder-empty')}</p>}
    </Dialog>
  );
}

/** A tone for each photograph that came in by itself, on whichever screen: nobody has to look. */
export function useWatchSound(watch: FolderWatchState | undefined, isOn: boolean): void {
  const heard = useRef(0);
  const last = watch?.last;
  useEffect(() => {
    if (!last || last.outcome === 'looking' || last.number === heard.current) return;
    heard.current = last.number;
    if (isOn) playOutcome(last.outcome === 'taken' ? 'taken' : 'refused');
  }, [last, isOn]);
}
