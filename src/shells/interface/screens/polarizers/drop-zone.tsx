/** A place for photographs: dropped upon, or chosen in a dialog. What stands in it is its own. */
import { type DragEvent, type ReactNode, useRef, useState } from 'react';
import type { Host } from '../../host/host.ts';
import { ACCEPTED_TYPES, FileInput } from '../../parts/field.tsx';
import { checkFile, type Dropped, formatFileProblem, readDrop } from '../shots/intake-files.ts';
import type { PolarizerRole } from '../../../../record/roles.ts';

interface DropPlaceProps {
  readonly label: string;
  readonly areSeveral?: boolean;
  readonly onFiles: (dropped: Dropped) => void;
  /** `choose` opens the dialog. */
  readonly children: (choose: () => void) => ReactNode;
}

export function DropZone({ label, areSeveral = false, onFiles, children }: DropPlaceProps) {
  const input = useRef<HTMLInputElement>(null);
  const [isOver, setOver] = useState(false);
  const leave = (event: DragEvent) => {
    if (!event.currentTarget.contains(event.relatedTarget as Node | null)) setOver(false);
  };
  return (
    <section
      className={`polarizers-place${isOver ? ' polarizers-place-over' : ''}`}
      aria-label={label}
      onDragEnter={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={leave}
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        event.stopPropagation();
        setOver(false);
        onFiles(readDrop(event.dataTransfer));
      }}
    >
      {children(() => input.current?.click())}
      <FileInput
        input={input}
        accept={ACCEPTED_TYPES}
        areSeveral={areSeveral}
        label={label}
        onFiles={(files) => onFiles({ files, folders: [] })}
      />
    </section>
  );
}

/** Photographs on their way to this screen: checked before they are sent, one after the other, with what went wrong. */

interface SendingProblem {
  readonly message: string;
  readonly remedy: string;
}

export interface Sending {
  /** The name of the file that is being sent. */
  readonly name: string | undefined;
  readonly problems: readonly SendingProblem[];
  send(place: PolarizerRole, dropped: Dropped): Promise<void>;
  dismiss(problem: SendingProblem): void;
}

const inNaturalOrder = new Intl.Collator('en', { numeric: true });

export function useSending(host: Host): Sending {
  const [name, setName] = useState<string>();
  const [problems, setProblems] = useState<readonly SendingProblem[]>([]);
  const tell = (problem: SendingProblem) =>
    setProblems((before) => [...before.filter(({ message }) => message !== problem.message), problem]);

  const send = async (place: PolarizerRole, { files, folders }: Dropped) => {
    setProblems([]);
    for (const folder of folders) tell(formatFileProblem('folder', folder, null));
    const inOrder = [...files].sort((a, b) => inNaturalOrder.compare(a.name, b.name));
    for (const file of place === 'series' ? inOrder : inOrder.slice(0, 1)) {
      const found = await checkFile(file);
      if (found !== null) {
        tell(formatFileProblem(found, file.name, null));
        continue;
      }
      setName(file.name);
      const outcome = await host.addPhotograph({ set: 'polarizers', role: place }, file);
      if (!outcome.ok) tell(outcome.failure);
    }
    setName(undefined);
  };
  return {
    name,
    problems,
    send,
    dismiss: (problem) => setProblems((before) => before.filter((each) => each !== problem)),
  };
}
