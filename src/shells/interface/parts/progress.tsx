/** How far a piece of work is, and a way to stop it. */
import { translate } from '../../../wording/translate.ts';
import { Button } from './button.tsx';
import './parts.css';

export interface ProgressProps {
  readonly label: string;
  /** 0 to 1; undefined while nobody can tell. */
  readonly fraction?: number | undefined;
  readonly onCancel?: (() => void) | undefined;
}

export function Progress({ label, fraction, onCancel }: ProgressProps) {
  return (
    <span className="part-progress">
      <span className="part-progress-words">
        {label}
        {fraction !== undefined && (
          <span className="part-progress-percent">
            {translate('parts.percent', { percent: Math.round(fraction * 100) })}
          </span>
        )}
      </span>
      <progress aria-label={label} max={1} value={fraction} />
      {onCancel && (
        <Button kind="quiet" onClick={onCancel} name={translate('parts.cancel-what', { what: label })}>
          {translate('parts.cancel')}
        </Button>
      )}
    </span>
  );
}
