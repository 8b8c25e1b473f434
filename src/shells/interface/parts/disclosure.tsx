/** What is folded away until it is wanted. */
import { type ReactNode, useState } from 'react';
import './parts.css';

export interface DisclosureProps {
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
