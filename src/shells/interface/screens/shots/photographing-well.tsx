/** How to take photographs that can be measured well. */
import { translate } from '../../../../wording/translate.ts';

const STEPS = ['target', 'tripod', 'manual', 'glasses', 'timer', 'still'] as const;

export function PhotographingWell() {
  return (
    <ol className="shots-well">
      {STEPS.map((step) => (
        <li key={step}>{translate(`shots.well-${step}`)}</li>
      ))}
    </ol>
  );
}
