/** House: the facts of the room and the machine, checked while they are written, with a drawing that follows. */
import { type DragEvent, useState } from 'react';
import type { Failure } from '../../../../contract/failures.ts';
import { readHouse } from '../../../../record/house.ts';
import { translate } from '../../../../wording/translate.ts';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { Button } from '../../parts/button.tsx';
import { Dialog } from '../../parts/dialog.tsx';
import { Field } from '../../parts/field.tsx';
import { FailureNotice } from '../../parts/notice.tsx';
import { Attachment } from './attachment-form.tsx';
import { type GivenText, readHouseFile, writeHouseFile } from './house-draft.ts';
import { HouseDrawing } from './house-drawing.tsx';
import { ProjectorAndFilm, ScreenAndSeats, Tolerances } from './house-forms.tsx';
import { FindingsOfRounds } from './findings-of-rounds.tsx';
import { UnseenErrors } from './unseen-errors-form.tsx';
import meridian from './meridian.house.json' with { type: 'json' };
import { formatNumber, parseNumber } from './units.ts';
import { type HouseEditing, useHouseDraft } from './use-house-draft.ts';
import './house.css';

export function HouseScreen({ host, workspace }: ScreenProps) {
  const { house, settings } = workspace;
  const editing = useHouseDraft(host, house);
  const [failure, setFailure] = useState<Failure | null>(null);
  const [isLeaving, setLeaving] = useState(false);
  const take = async (file: GivenText) => {
    const read = await readHouseFile(file);
    if ('failure' in read) return setFailure(read.failure);
    const outcome = await host.call('house.import', { json: read.json });
    setFailure(outcome.ok ? null : outcome.failure);
    if (outcome.ok) editing.revert();
  };
  const importFile = () => chooseFile((file) => void take(file));
  const leave = async () => {
    setLeaving(false);
    const outcome = await host.call('house.set', { house: null });
    if (outcome.ok) editing.revert();
    else setFailure(outcome.failure);
  };
  const problem = failure ?? editing.failure;
  const { draft } = editing;
  return (
    <div className="house" {...dropListeners((file) => void take(file))}>
      {problem && <FailureNotice failure={problem} onDismiss={failure ? () => setFailure(null) : undefined} />}
      {draft === null ? (
        <NoHouse host={host} workspace={workspace} onBegin={() => editing.begin()} onImport={importFile} />
      ) : (
        <>
          <div className="house-lead">
            <div>
              <h1>{typeof draft.tree.name === 'string' ? draft.tree.name : translate('house.unnamed-house')}</h1>
              <SavedState editing={editing} isNew={house === null} />
            </div>
            <div className="house-tools">
              <Button onClick={importFile}>{translate('house.import')}</Button>
              <Button
                whyNot={house === null ? translate('house.export-not') : undefined}
                onClick={() => house && download(writeHouseFile(house))}
              >
                {translate('house.export')}
              </Button>
              <Button kind="quiet" onClick={() => setLeaving(true)}>
                {translate('house.leave')}
              </Button>
            </div>
          </div>
          <div className="house-columns">
            <div className="house-forms">
              <ScreenAndSeats editing={editing} units={settings.units} />
              <ProjectorAndFilm editing={editing} units={settings.units} />
              <UnseenErrors editing={editing} units={settings.units} />
              {house && <FindingsOfRounds host={host} workspace={workspace} />}
              <Attachment editing={editing} units={settings.units} />
              <Tolerances editing={editing} units={settings.units} />
            </div>
            <aside className="house-aside" aria-label={translate('house.drawing')}>
              <HouseDrawing tree={draft.tree} units={settings.units} />
            </aside>
          </div>
        </>
      )}
      {isLeaving && (
        <Dialog
          title={translate('house.leave-title')}
          onClose={() => setLeaving(false)}
          answers={
            <>
              <Button onClick={() => void leave()}>{translate('house.leave-yes')}</Button>
              <Button kind="quiet" onClick={() => setLeaving(false)}>
                {translate('house.leave-no')}
              </Button>
            </>
          }
        >
          <p>{translate('house.leave-what')}</p>
        </Dialog>
      )}
    </div>
  );
}

/** Whether what is shown is what is kept; if not, how many fields are in the way. */
function SavedState({ editing, isNew }: { readonly editing: HouseEditing; readonly isNew: boolean }) {
  const { state, checked } = editing;
  const count = checked?.problems.size ?? 0;
  const isOpen = state === 'unsaved' && count > 0;
  return (
    <p className="house-state" role="status">
      {isOpen
        ? translate(isNew ? 'house.state-new' : 'house.state-open', { count })
        : translate(`house.state-${state}`)}
      {isOpen && !isNew && (
        <Button kind="quiet" onClick={editing.revert}>
          {translate('house.revert')}
        </Button>
      )}
    </p>
  );
}

function chooseFile(onChosen: (file: File) => void): void {
  const input = Object.assign(document.createElement('input'), { type: 'file', accept: '.json,application/json' });
  input.addEventListener('change', () => {
    const file = input.files?.[0];
    if (file) onChosen(file);
  });
  input.click();
}

function download({ name, text }: { readonly name: string; readonly text: string }): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  Object.assign(document.createElement('a'), { href: address, download: name }).click();
  // The download has begun when the click returns; the address is let go a little later all the same.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** A House file dropped on this screen; anything else goes where photographs go. */
function dropListeners(onFile: (file: File) => void) {
  return {
    onDragOver: (event: DragEvent) => event.preventDefault(),
    onDrop: (event: DragEvent) => {
      const file = [...event.dataTransfer.files].find(({ name }) => name.toLowerCase().endsWith('.json'));
      if (!file) return;
      event.preventDefault();
      event.stopPropagation();
      onFile(file);
    },
  };
}

/** What is shown where there is no House: what that costs, and three ways to have one. */

interface NoHouseProps extends ScreenProps {
  readonly onBegin: () => void;
  readonly onImport: () => void;
}

function NoHouse({ host, workspace, onBegin, onImport }: NoHouseProps) {
  const loadExample = () => {
    const read = readHouse(meridian);
    if (read.outcome === 'read') void host.call('house.set', { house: read.house });
  };
  return (
    <div className="house-none">
      <h1>{translate('house.none')}</h1>
      <p className="house-none-cost">{translate('house.none-cost')}</p>
      <div className="house-none-ways">
        <Button kind="main" onClick={onBegin}>
          {translate('house.begin')}
        </Button>
        <Button onClick={onImport}>{translate('house.import')}</Button>
        <Button onClick={loadExample}>{translate('house.example')}</Button>
      </div>
      <Aspect host={host} workspace={workspace} />
    </div>
  );
}

const MIN_ASPECT = 1.33;
const MAX_ASPECT = 2.6;

function Aspect({ host, workspace }: ScreenProps) {
  const [text, setText] = useState(formatNumber(workspace.aspect));
  const aspect = parseNumber(text);
  const isAllowed = aspect !== undefined && aspect >= MIN_ASPECT && aspect <= MAX_ASPECT;
  const type = (typed: string) => {
    setText(typed);
    const value = parseNumber(typed);
    if (value !== undefined && value >= MIN_ASPECT && value <= MAX_ASPECT) {
      void host.call('aspect.set', { aspect: value });
    }
  };
  return (
    <Field
      label={translate('house.field-picture_aspect')}
      kind="number"
      value={text}
      onChange={type}
      hint={translate('house.aspect-alone')}
      problem={isAllowed ? undefined : translate('house.aspect-range', { min: MIN_ASPECT, max: MAX_ASPECT })}
    />
  );
}
