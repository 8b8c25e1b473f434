/** What the operator should know: what is wrong, then what to do. Told apart by shape, not by colour alone. */
import type { ReactNode } from 'react';
import { translate } from '../../../wording/translate.ts';
import { Button } from './button.tsx';
import './parts.css';

interface NoticeProps {
  /** `problem`: something has to be done. `note`: good to know. `caution`: somebody could get hurt. */
  readonly kind: 'problem' | 'note' | 'caution';
  readonly message: ReactNode;
  readonly remedy?: ReactNode;
  readonly children?: ReactNode;
  readonly onDismiss?: (() => void) | undefined;
  /** Read out at once when it appears; for what nobody should miss. */
  readonly isUrgent?: boolean | undefined;
}

const SHAPES = {
  problem: <path d="M10 1.5 19 18H1Z" fill="currentColor" />,
  note: <path d="M4 10h12" stroke="currentColor" strokeWidth="2.6" />,
  caution: (
    <>
      <path d="M10 2.5 18.2 17.5H1.8Z" fill="none" stroke="currentColor" strokeWidth="1.8" strokeLinejoin="round" />
      <path d="M10 8v4.6M10 14v1.8" stroke="currentColor" strokeWidth="1.8" />
    </>
  ),
} as const;

export function Notice({ kind, message, remedy, children, onDismiss, isUrgent }: NoticeProps) {
  return (
    <div className={`part-notice part-notice-${kind}`} role={isUrgent ? 'alert' : undefined}>
      <svg className="part-notice-shape" viewBox="0 0 20 20" aria-hidden="true">
        {SHAPES[kind]}
      </svg>
      <div className="part-notice-words">
        <p className="part-notice-message">{message}</p>
        {remedy !== undefined && <p className="part-notice-remedy">{remedy}</p>}
        {children}
      </div>
      {onDismiss && (
        <Button kind="quiet" onClick={onDismiss}>
          {translate('parts.dismiss')}
        </Button>
      )}
    </div>
  );
}

interface FailureNoticeProps {
  readonly failure: { readonly message: string; readonly remedy: string };
  readonly onDismiss?: (() => void) | undefined;
}

/** What went wrong and what to do, read out at once. */
export function FailureNotice({ failure: { message, remedy }, onDismiss }: FailureNoticeProps) {
  return <Notice kind="problem" isUrgent message={message} remedy={remedy} onDismiss={onDismiss} />;
}

/** How far a piece of work is, and a way to stop it. */

interface ProgressProps {
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

/** A sentence that is read out when it changes. */

export function StatusLine({ children }: { readonly children: ReactNode }) {
  return (
    <p className="part-status" role="status">
      {children}
    </p>
  );
}

/** What can hurt, right where the hands are sent. */

export function Cautions({ cautions }: { readonly cautions: readonly string[] }) {
  if (cautions.length === 0) return null;
  return (
    <aside className="cautions" aria-labelledby="cautions">
      <h2 id="cautions">
        <svg viewBox="0 0 20 20" aria-hidden="true">
          <path d="M10 2.5 18.2 17.5H1.8Z" fill="none" stroke="currentColor" strokeWidth="1.8" strokeLinejoin="round" />
          <path d="M10 8v4.6M10 14v1.8" stroke="currentColor" strokeWidth="1.8" />
        </svg>
        {translate('cautions.before-you-touch')}
      </h2>
      <ul>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </aside>
  );
}

/** The caution of one step, beside it. */
export function StepCaution({ caution }: { readonly caution: string | null }) {
  if (caution === null) return null;
  return (
    <p className="step-caution">
      <svg viewBox="0 0 20 20" aria-hidden="true">
        {SHAPES.caution}
      </svg>
      {caution}
    </p>
  );
}
