/** The causes of a round: as they were measured, or weighed again with what checks have shown since. */
import { useEffect, useState } from 'react';
import type { Round } from '../../../contract/workspace.ts';
import type { Diagnosis, Reading } from '../../../record/reading.ts';
import type { Host } from './host.ts';

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
    void host.call('round.weigh-causes', { round: number }).then((outcome) => {
      if (isWanted && outcome.ok) setWeighed(outcome.value);
    });
    return () => {
      isWanted = false;
    };
  }, [host, number, answered]);
  const { causes = [], next_check = null, cautions = [] } = reading;
  return weighed ?? { causes, next_check, cautions };
}
