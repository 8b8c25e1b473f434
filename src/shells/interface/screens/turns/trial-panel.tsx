/** Learning what an unknown adjustment does from a trial turn, and what has been learned. */
import { useState } from 'react';
import type { Failure } from '../../../../contract/failures.ts';
import type { TrialState } from '../../../../contract/rounds.ts';
import type { Workspace } from '../../../../contract/workspace.ts';
import type { HouseAdjustment } from '../../../../record/house-adjustments.ts';
import { formatFigures } from '../../../../wording/numbers.ts';
import { isMessageKey, translate } from '../../../../wording/translate.ts';
import { shortenLabel } from '../../../../wording/turns.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { Notice } from '../../parts/notice.tsx';

export interface TrialPanelProps {
  readonly host: Host;
  readonly trial: TrialState;
  readonly onSkip: () => void;
}

/** Learning comes before anything else is turned, so it has the screen to itself. */
export function TrialPanel({ host, trial, onSkip }: TrialPanelProps) {
  const name = lowerFirst(shortenLabel(trial.adjustment.label));
  if (trial.kind === 'learned') {
    return (
      <section className="turns-trial">
        <div role="status">
          <h1>{translate('turns.learned', { name })}</h1>
        </div>
        <LearntEffect adjustment={trial.adjustment} />
        <p className="turns-lead">{translate('turns.learned-next')}</p>
        <Button kind="main" onClick={() => void host.call('measure.start', {})}>
          {translate('turns.use-learned')}
        </Button>
      </section>
    );
  }
  return (
    <section className="turns-trial">
      <div role="status">
        <h1>{translate('turns.to-learn', { name })}</h1>
      </div>
      <p className="turns-lead">{translate('turns.to-learn-how')}</p>
      <div className="turns-answers">
        <LearnButton host={host} before={trial.before} after={trial.after} isMain label={translate('turns.learn')} />
        <Button onClick={onSkip}>{translate('turns.skip-learning')}</Button>
      </div>
    </section>
  );
}

/** Only an ordinary capital goes: "Upper screw" but "K2 screw" stays. */
function lowerFirst(text: string): string {
  return /^[A-Z][a-z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}

export interface LearnButtonProps {
  readonly host: Host;
  readonly before: number;
  readonly after: number;
  readonly label: string;
  readonly isMain?: boolean;
}

/** What stands in the way is said right here, where the hand was. */
export function LearnButton({ host, before, after, label, isMain }: LearnButtonProps) {
  const [failure, setFailure] = useState<Failure>();
  const learn = async () => {
    const outcome = await host.call('trial.learn', { before, after });
    setFailure(outcome.ok ? undefined : outcome.failure);
  };
  return (
    <>
      {failure && (
        <div className="turns-failure">
          <Notice kind="problem" message={failure.message} remedy={failure.remedy} isUrgent />
        </div>
      )}
      <Button kind={isMain ? 'main' : 'plain'} onClick={() => void learn()}>
        {label}
      </Button>
    </>
  );
}

type Stated = Extract<HouseAdjustment, { kind: 'stated' }>;

function LearntEffect({ adjustment: { moves, effect_per_turn, effect_u_pct } }: { readonly adjustment: Stated }) {
  return (
    <>
      <p>{translate('turns.learned-moves', { moves })}</p>
      <ul className="turns-learned">
        {Object.entries(effect_per_turn).map(([field, value]) => {
          const key = `turns.effect-${field}`;
          if (value === undefined || !isMessageKey(key)) return null;
          return (
            <li key={field}>
              {translate(key, { amount: formatFigures(Math.abs(value)), way: value > 0 ? 'more' : 'less' })}
            </li>
          );
        })}
      </ul>
      {effect_u_pct !== undefined && (
        <p className="turns-small">{translate('turns.learned-u', { percent: formatFigures(2 * effect_u_pct) })}</p>
      )}
    </>
  );
}

export function isMeasuring({ jobs }: Workspace): boolean {
  return jobs.some(({ kind, state }) => kind === 'measure' && (state === 'running' || state === 'waiting'));
}
