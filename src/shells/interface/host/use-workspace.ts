/** The workspace as it stands, drawn again after every change. */
import { useEffect, useState } from 'react';
import type { Event } from '../../../contract/events.ts';
import type { Round, Workspace } from '../../../contract/workspace.ts';
import type { Diagnosis } from '../../../record/diagnosis.ts';
import type { Reading } from '../../../record/reading.ts';
import type { Host } from './host.ts';

/** What every screen is given. */
export interface ScreenProps {
  readonly host: Host;
  readonly workspace: Workspace;
}

interface WorkspaceView {
  /** Undefined until the shell has answered for the first time. */
  readonly workspace: Workspace | undefined;
  /** The shell no longer answers; it is asked again every second. */
  readonly isLost: boolean;
  /** The engine stopped after it had been ready, and is being started again. */
  readonly isEngineRestarting: boolean;
}

const ASK_AGAIN_MS = 1000;

export function useWorkspace(host: Host): WorkspaceView {
  const [workspace, setWorkspace] = useState<Workspace>();
  const [isLost, setLost] = useState(false);
  const [isEngineRestarting, setRestarting] = useState(false);
  useEffect(() => {
    let stop = () => {};
    let timer: ReturnType<typeof setTimeout> | undefined;
    const hear = (event: Event) => {
      setLost(false);
      if (event.type === 'workspace') setWorkspace(event.workspace);
      else if (event.state === 'stopped') setRestarting(true);
      else if (event.state === 'ready') setRestarting(false);
    };
    const begin = () => {
      stop = host.listen(hear, () => {
        setLost(true);
        timer = setTimeout(begin, ASK_AGAIN_MS);
      });
    };
    begin();
    return () => {
      clearTimeout(timer);
      stop();
    };
  }, [host]);
  return { workspace, isLost, isEngineRestarting };
}

/** The whole reading of one round; asked for once as long as the round is the same. */
export function useReading(host: Host, { number: round, at }: Partial<Round> = {}): Reading | undefined {
  const [shown, setShown] = useState<{ readonly of: string; readonly reading: Reading }>();
  // One that was refused gives its number to the next, and one that follows its house is measured again in its place.
  const of = `${round} ${at}`;
  useEffect(() => {
    if (round === undefined) return undefined;
    let isWanted = true;
    void host.call('round.read', { round }).then((outcome) => {
      if (isWanted && outcome.ok) setShown({ of, reading: outcome.value });
    });
    return () => {
      isWanted = false;
    };
  }, [host, round, of]);
  return round !== undefined && shown?.of === of ? shown.reading : undefined;
}

/** The causes of a round: as they were measured, or weighed again with what checks have shown since. */

/** While an answer is being weighed the causes stay as they were. */
export function useCauses(host: Host, { number, check_answers = [] }: Round, reading: Reading): Diagnosis {
  const [weighed, setWeighed] = useState<Diagnosis>();
  const answered = JSON.stringify(check_answers);
  useEffect(() => {
    if (answered === '[]') {
      setWeighed(undefined);
      return undefined;
    }
    let isWanted = true;
    void host.call('round.update-causes', { round: number }).then((outcome) => {
      if (isWanted && outcome.ok) setWeighed(outcome.value);
    });
    return () => {
      isWanted = false;
    };
  }, [host, number, answered]);
  const { causes = [], next_check = null, cautions = [] } = reading;
  return weighed ?? { causes, next_check, cautions };
}
