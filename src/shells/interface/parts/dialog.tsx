/** A question or a page of its own before the screen. Escape closes it, and the focus goes back to where it was. */
import { type ReactNode, useEffect, useId, useRef } from 'react';
import { translate } from '../../../wording/translate.ts';
import { Button } from './button.tsx';
import './parts.css';

export interface DialogProps {
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
