/** What the rounds have shown of film and glasses, and the button that takes it into the house. */

import { listHouseFindings } from '../../../../wording/house-findings.ts';
import { translate } from '../../../../wording/translate.ts';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { Button } from '../../parts/button.tsx';

export function FindingsOfRounds({ host, workspace }: Pick<ScreenProps, 'host' | 'workspace'>) {
  const shown = workspace.rounds.flatMap(({ house_findings }) =>
    house_findings ? listHouseFindings(house_findings) : [],
  );
  if (shown.length === 0) return null;
  return (
    <section className="house-group">
      <h2>{translate('house.learned')}</h2>
      <ul>
        {[...new Set(shown)].map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <p>{translate('house.learned-what')}</p>
      <p>{translate('house.learned-in-work')}</p>
      <Button onClick={() => void host.call('house.take-findings', {})}>{translate('house.learned-take')}</Button>
    </section>
  );
}
