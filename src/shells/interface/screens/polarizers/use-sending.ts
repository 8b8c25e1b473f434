/** Photographs on their way to this screen: checked before they are sent, one after the other, with what went wrong. */
import { useState } from 'react';
import type { PolarizerPlace } from '../../../../contract/polarizers.ts';
import type { Host } from '../../host/host.ts';
import { checkFile } from '../shots/check-file.ts';
import type { Dropped } from '../shots/read-drop.ts';
import { formatFileProblem } from '../shots/word-file-problem.ts';

export interface SendingProblem {
  readonly message: string;
  readonly remedy: string;
}

export interface Sending {
  /** The name of the file that is being sent. */
  readonly name: string | undefined;
  readonly problems: readonly SendingProblem[];
  send(place: PolarizerPlace, dropped: Dropped): Promise<void>;
  dismiss(problem: SendingProblem): void;
}

const inNaturalOrder = new Intl.Collator('en', { numeric: true });

export function useSending(host: Host): Sending {
  const [name, setName] = useState<string>();
  const [problems, setProblems] = useState<readonly SendingProblem[]>([]);
  const tell = (problem: SendingProblem) =>
    setProblems((before) => [...before.filter(({ message }) => message !== problem.message), problem]);

  const send = async (place: PolarizerPlace, { files, folders }: Dropped) => {
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
      const outcome = await host.addToPolarizers(place, file);
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
