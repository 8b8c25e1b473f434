/** A question or a page of its own before the screen. Escape closes it, and the focus goes back to where it was. */
import { type ReactNode, useEffect, useId, useRef, useState } from 'react';
import { translate } from '../../../wording/translate.ts';
import { Button } from './button.tsx';
import './parts.css';

interface DialogProps {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
  /** What can be answered; without any there is a button that closes. */
  readonly answers?: ReactNode;
}

export function Dialog({ title, onClose, children, answers }: DialogProps) {
  const ref = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  useEffect(() => {
    const dialog = ref.current!;
    const before = document.activeElement;
    dialog.showModal();
    return () => {
      dialog.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={ref}
      className="part-dialog"
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <h2 id={titleId}>{title}</h2>
      <div className="part-dialog-body">{children}</div>
      <div className="part-dialog-answers">
        {answers ?? <Button onClick={onClose}>{translate('parts.close')}</Button>}
      </div>
    </dialog>
  );
}

/** What is folded away until it is wanted. */

interface DisclosureProps {
  readonly summary: ReactNode;
  readonly children: ReactNode;
  readonly isOpenAtFirst?: boolean | undefined;
}

export function Disclosure({ summary, children, isOpenAtFirst = false }: DisclosureProps) {
  const [isOpen, setOpen] = useState(isOpenAtFirst);
  return (
    <details className="part-disclosure" open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        <svg className="part-disclosure-mark" viewBox="0 0 12 12" aria-hidden="true">
          <path d="M3.5 1.5 8.5 6l-5 4.5" fill="none" stroke="currentColor" strokeWidth="1.8" />
        </svg>
        {summary}
      </summary>
      <div className="part-disclosure-body">{children}</div>
    </details>
  );
}
