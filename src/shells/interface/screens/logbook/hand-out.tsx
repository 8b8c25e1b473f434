/** What can be taken out of the logbook here: reports on the chosen paper, tables, and whatever else the place has. */
import type { ReactNode } from 'react';
import type { Paper } from '../../../../contract/logbook.ts';
import type { Host } from '../../host/host.ts';
import { Choice } from '../../parts/choice.tsx';
import { SaveButtons, type SaveOrder } from '../../parts/save-buttons.tsx';
import { say } from '../../wording/say.ts';

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
      <h2>{say('logbook.hand-out')}</h2>
      <Choice
        label={say('logbook.paper')}
        options={[
          { value: 'a4', label: say('logbook.paper-a4') },
          { value: 'letter', label: say('logbook.paper-letter') },
        ]}
        value={paper}
        onChange={onPaper}
      />
      <SaveButtons host={host} orders={orders} />
      {children}
    </section>
  );
}
