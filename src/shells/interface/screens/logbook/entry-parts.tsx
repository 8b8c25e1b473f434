/** The photographs of an entry, each marked by how it was taken. */
import type { ReactNode } from 'react';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { Paper } from '../../../../contract/logbook.ts';
import type { EntryShot } from '../../../../record/entry.ts';
import { translate } from '../../../../wording/translate.ts';
import type { Host } from '../../host/host.ts';
import { Choice } from '../../parts/field.tsx';
import { SaveButtons, type SaveRequest } from '../../parts/save-buttons.tsx';

const VIEW_PX = 900;

export function EntryPhotographs({
  shots,
}: {
  readonly shots: readonly Pick<EntryShot, 'role' | 'name' | 'sha256'>[];
}) {
  return (
    <div className="logbook-photographs">
      {shots.map(({ role, name, sha256 }) => (
        <figure key={role} className={`logbook-photograph logbook-photograph-${role}`}>
          <img
            src={ADDRESSES.logbook.photograph(sha256, VIEW_PX)}
            alt={translate(`logbook.shot-${role}`)}
            loading="lazy"
          />
          <figcaption>
            {translate(`logbook.shot-${role}`)}
            <span className="logbook-about">{name}</span>
          </figcaption>
        </figure>
      ))}
    </div>
  );
}

/** What can be taken out of the logbook here: reports on the chosen paper, tables, and whatever else the place has. */

interface ExportButtonsProps {
  readonly host: Host;
  readonly paper: Paper;
  readonly onPaper: (paper: Paper) => void;
  readonly orders: readonly SaveRequest[];
  readonly children?: ReactNode;
}

export function ExportButtons({ host, paper, onPaper, orders, children }: ExportButtonsProps) {
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
