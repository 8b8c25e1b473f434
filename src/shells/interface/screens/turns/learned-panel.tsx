/** What the rounds have taught of the adjustments, and what becomes of it: into the house, or forgotten. */
import { useState } from 'react';
import { LearnedTable } from '../../../../drawings/learned-table.tsx';
import type { MeasuredReading } from '../../../../record/reading.ts';
import { translate } from '../../../../wording/translate.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { Disclosure } from '../../parts/dialog.tsx';
import { StatusLine } from '../../parts/notice.tsx';

interface LearnedPanelProps {
  readonly host: Host;
  readonly learning: NonNullable<MeasuredReading['learning']>;
  /** It stands in the house already, or was forgotten. */
  readonly isSettled: boolean;
}

export function LearnedPanel({ host, learning, isSettled }: LearnedPanelProps) {
  const [done, setDone] = useState<'taken' | 'forgotten'>();
  const call = async (name: 'learned.take' | 'learned.forget', becomes: 'taken' | 'forgotten') => {
    const outcome = await host.call(name, {});
    if (outcome.ok) setDone(becomes);
  };
  if (isSettled) return done ? <StatusLine>{translate(`turns.learned-${done}`)}</StatusLine> : null;
  return (
    <section className="turns-learned">
      <Disclosure summary={translate('turns.learned')} isOpenAtFirst={learning.adjustments.some(isUnstated)}>
        <p className="turns-small">{translate('turns.learned-how')}</p>
        <LearnedTable learning={learning} />
        <div className="turns-answers">
          <Button onClick={() => void call('learned.take', 'taken')}>{translate('turns.learned-take')}</Button>
          <Button kind="quiet" onClick={() => void call('learned.forget', 'forgotten')}>
            {translate('turns.learned-forget')}
          </Button>
          <span className="turns-small">{translate('turns.learned-forget-why')}</span>
        </div>
      </Disclosure>
    </section>
  );
}

/** Of such an adjustment nobody has said anything yet, so that what was seen is news. */
function isUnstated({ stated_per_turn, tried_turns }: LearnedPanelProps['learning']['adjustments'][number]): boolean {
  return stated_per_turn === null && tried_turns > 0;
}
