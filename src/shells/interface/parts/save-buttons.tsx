/** Saves a file of the host. While it is being made that is said, and what hinders it stands beside the button. */
import { useState } from 'react';
import type { Failure } from '../../../contract/failures.ts';
import type { Host } from '../host/host.ts';
import { Button } from './button.tsx';
import { FailureNotice } from './notice.tsx';
import { translate } from '../../../wording/translate.ts';
import './parts.css';

export interface SaveRequest {
  readonly label: string;
  readonly address: string;
}

export interface SaveButtonsProps {
  readonly host: Host;
  readonly orders: readonly SaveRequest[];
  readonly kind?: 'plain' | 'quiet';
}

export function SaveButtons({ host, orders, kind = 'plain' }: SaveButtonsProps) {
  const [making, setMaking] = useState<string>();
  const [failure, setFailure] = useState<Failure>();
  const save = async (address: string) => {
    setMaking(address);
    setFailure(undefined);
    setFailure(await saveFile(host, address));
    setMaking(undefined);
  };
  return (
    <div className="part-save">
      <div className="part-save-row">
        {orders.map(({ label, address }) => (
          <Button key={address} kind={kind} onClick={() => void save(address)}>
            {making === address ? translate('parts.making', { label }) : label}
          </Button>
        ))}
      </div>
      <p className="unseen" role="status">
        {making === undefined ? '' : translate('parts.making-any')}
      </p>
      {failure && <FailureNotice failure={failure} onDismiss={() => setFailure(undefined)} />}
    </div>
  );
}

/** A failure in words where there is no such file. */
export async function saveFile(host: Host, address: string): Promise<Failure | undefined> {
  const fetched = await host.fetchFile(address);
  if (!fetched.ok) return fetched.failure;
  const { name, blob } = fetched.value;
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  // The browser has taken it over by then.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return undefined;
}
