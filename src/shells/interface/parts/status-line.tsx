/** A sentence that is read out when it changes. */
import type { ReactNode } from 'react';
import './parts.css';

export function StatusLine({ children }: { readonly children: ReactNode }) {
  return (
    <p className="part-status" role="status">
      {children}
    </p>
  );
}
