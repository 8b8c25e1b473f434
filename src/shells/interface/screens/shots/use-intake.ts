/**
 * Photographs on their way in, from wherever they are given: dropped, pasted, or chosen in a dialog. It belongs to the
 * frame, so that nothing on its way is lost when another screen is shown.
 */
import { createContext, useCallback, useContext, useEffect, useMemo, useRef, useState } from 'react';
import { ACCEPTED_TYPES } from '../../parts/field.tsx';
import type { ChosenPhotograph } from '../../../../contract/commands.ts';
import type { Outcome } from '../../../../contract/failures.ts';
import type { PhotographPlace } from '../../../../contract/shots.ts';
import type { Workspace } from '../../../../contract/workspace.ts';
import type { Host } from '../../host/host.ts';
import { findMissingSlot } from '../../../../contract/photographs-of-round.ts';
import { findBridge } from '../../frame/use-host-link.ts';
import {
  assignFiles,
  type Assignment,
  checkFile,
  compareNames,
  type Dropped,
  formatFileProblem,
  type IntakeProblem,
  readDrop,
} from './intake-files.ts';
import type { ShotSlot } from '../../../../record/roles.ts';
import { showScreen } from '../../frame/screens.ts';

export interface Intake {
  /** Files for one shot, or (`null`) for whichever they fit. */
  take(dropped: Dropped, at: ShotSlot | null): void;
  /** Opens a dialog for files. `isRepeat`: they lie beside those that are there. */
  choose(at: ShotSlot | null, isRepeat?: boolean): void;
  /** Names of files that are being sent. */
  readonly sending: Readonly<Partial<Record<ShotSlot, string>>>;
  cancel(slot: ShotSlot): void;
  readonly problems: readonly IntakeProblem[];
  dismiss(problem: IntakeProblem): void;
  /** The last two were told apart by nothing but the order of their names. */
  readonly isOrderGuessed: boolean;
  /** Files of which somebody has to say what they are, with what their names suggest. */
  readonly question: { readonly files: readonly File[]; readonly proposal: Assignment } | null;
  answer(assignment: Assignment | null): void;
}

const IntakeContext = createContext<Intake | null>(null);
export const IntakeProvider = IntakeContext.Provider;

export function useIntakeOfFrame(): Intake {
  return useContext(IntakeContext)!;
}

export function useIntake(host: Host, workspace: Workspace | undefined): Intake {
  const [sending, setSending] = useState<Intake['sending']>({});
  const [problems, setProblems] = useState<readonly IntakeProblem[]>([]);
  const [isOrderGuessed, setOrderGuessed] = useState(false);
  const [question, setQuestion] = useState<Intake['question']>(null);
  const stops = useRef(new Map<ShotSlot, AbortController>());
  const latest = useRef(workspace);
  latest.current = workspace;

  const send = useCallback(
    async (slot: ShotSlot, file: File, isRepeat: boolean) => {
      const stop = new AbortController();
      stops.current.get(slot)?.abort();
      stops.current.set(slot, stop);
      setSending((before) => ({ ...before, [slot]: file.name }));
      setProblems((before) => before.filter((problem) => problem.slot !== slot));
      const found = await sendChecked(host, { set: 'shots', role: slot, is_repeat: isRepeat }, file, stop.signal);
      if (stops.current.get(slot) !== stop) return;
      stops.current.delete(slot);
      setSending(({ [slot]: _, ...others }) => others);
      if (found && !stop.signal.aborted) setProblems((before) => [...before, found]);
    },
    [host],
  );

  const sendAll = useCallback(
    async (files: readonly File[], assignment: Assignment, isRepeat = false) => {
      // One after the other: each is looked at as soon as it is there.
      for (const [slot, indices] of Object.entries(assignment) as [ShotSlot, readonly number[]][]) {
        for (const [k, index] of indices.entries()) await send(slot, files[index]!, isRepeat || k > 0);
      }
    },
    [send],
  );

  const take = useCallback(
    ({ files: given, folders }: Dropped, at: ShotSlot | null, isRepeat = false) => {
      showScreen('shots');
      const strangers = folders.map((name) => formatFileProblem('folder', name, at));
      setProblems((before) => [...before.filter(({ slot }) => slot !== at), ...strangers]);
      if (given.length === 0) return;
      const files = given.toSorted((a, b) => compareNames(a.name, b.name));
      const assigned = assignFiles(
        files.map(({ name }) => name),
        at,
        latest.current ? findMissingSlot(latest.current) : 'bare',
      );
      setOrderGuessed(assigned.how === 'in-order');
      if (assigned.how === 'question') setQuestion({ files, proposal: assigned.files });
      else void sendAll(files, assigned.files, isRepeat);
    },
    [sendAll],
  );

  const choose = useCallback(
    async (at: ShotSlot | null, isRepeat = false) => {
      const chosen = await chooseFiles();
      if (!chosen.ok) {
        const { message, remedy } = chosen.failure;
        setProblems((before) => [...before.filter(({ slot }) => slot !== at), { slot: at, message, remedy }]);
      } else if (chosen.value.length > 0) take({ files: chosen.value, folders: [] }, at, isRepeat);
    },
    [take],
  );

  useEffect(() => catchStrayFiles((dropped) => take(dropped, null)), [take]);

  return useMemo<Intake>(
    () => ({
      take,
      choose: (at, isRepeat) => void choose(at, isRepeat),
      sending,
      cancel: (slot) => stops.current.get(slot)?.abort(),
      problems,
      dismiss: (problem) => setProblems((before) => before.filter((each) => each !== problem)),
      isOrderGuessed,
      question,
      answer: (assignment) => {
        if (question && assignment) void sendAll(question.files, assignment);
        setQuestion(null);
      },
    }),
    [take, choose, sending, problems, isOrderGuessed, question, sendAll],
  );
}

async function sendChecked(
  host: Host,
  place: PhotographPlace & { set: 'shots' },
  file: File,
  signal: AbortSignal,
): Promise<IntakeProblem | undefined> {
  const slot = place.role;
  const code = await checkFile(file);
  if (code !== null) return formatFileProblem(code, file.name, slot);
  const outcome = await host.addPhotograph(place, file, signal);
  if (outcome.ok) return undefined;
  // A file that vanishes while it is read looks like a shell that does not answer.
  if ((await checkFile(file)) === 'unreadable') return formatFileProblem('unreadable', file.name, slot);
  return { slot, message: outcome.failure.message, remedy: outcome.failure.remedy };
}

/** The desktop's dialog, or the browser's. */
async function chooseFiles(): Promise<Outcome<readonly File[]>> {
  const chosen = await findBridge()?.choosePhotographs();
  if (chosen) return chosen.ok ? { ok: true, value: chosen.value.map(toFile) } : chosen;
  const input = Object.assign(document.createElement('input'), {
    type: 'file',
    multiple: true,
    accept: ACCEPTED_TYPES,
  });
  return new Promise((resolve) => {
    input.addEventListener('change', () => resolve({ ok: true, value: [...(input.files ?? [])] }));
    input.addEventListener('cancel', () => resolve({ ok: true, value: [] }));
    input.click();
  });
}

const toFile = ({ name, bytes }: ChosenPhotograph) => new File([bytes], name);

/** What is dropped or pasted beside every place still arrives, and the page never gives way to a dropped picture. */
function catchStrayFiles(onDropped: (dropped: Dropped) => void): () => void {
  const hold = (event: DragEvent) => event.preventDefault();
  const drop = (event: DragEvent) => {
    event.preventDefault();
    if (event.dataTransfer) hear(event.dataTransfer);
  };
  const paste = (event: ClipboardEvent) => {
    if (event.clipboardData) hear(event.clipboardData);
  };
  const hear = (data: DataTransfer) => {
    const dropped = readDrop(data);
    if (dropped.files.length + dropped.folders.length > 0) onDropped(dropped);
  };
  addEventListener('dragover', hold);
  addEventListener('drop', drop);
  addEventListener('paste', paste);
  return () => {
    removeEventListener('dragover', hold);
    removeEventListener('drop', drop);
    removeEventListener('paste', paste);
  };
}
