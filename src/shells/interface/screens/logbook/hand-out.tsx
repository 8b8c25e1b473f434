/** What can be taken out of the logbook here: reports on the chosen paper, tables, and whatever else the place has. */
import type { ReactNode } from 'react';
import type { Paper } from '../../../../contract/logbook.ts';
import type { Host } from '../../host/host.ts';
import { Choice } from '../../parts/choice.tsx';
import { SaveButtons, type SaveOrder } from '../../parts/save-buttons.tsx';
import { translate } from '../../../../wording/translate.ts';

export interface HandOutProps {
  readonly host: Host;
  readonly paper: Paper;
  readonly onPaper: (paper: Paper) => void;
  readonly orders: readonly SaveOrder[];
  readonly children?: ReactNode;
}

export function HandOut({ host, paper, onPaper, orders, children }: HandOutProps) {
  return (
    <section>
      <h2>{translate('logbook.hand-out')}</h2>
      <Choice
        label={translate('logbook.paper')}
        options={[
          { value: 'a4', label: translate('logbook.paper-a4') },
          { value: 'letter', label: translate('logbook.paper-letter') },
        ]}
        value={paper}
        onChange={onPaper}
      />
      <SaveButtons host={host} orders={orders} />
      {children}
    </section>
  );
}
