/** Weak displaced copies of the pictures: whose, where, how strong. */
import type { MeasuredReading } from '../../../../../record/reading.ts';
import { formatStray } from '../../../../../wording/strays.ts';
import { translate } from '../../../../../wording/translate.ts';

export function StraysPanel({ reading: { strays = [] } }: { readonly reading: MeasuredReading }) {
  if (strays.length === 0) return null;
  return (
    <section className="reading-strays">
      <h2>{translate('reading.strays')}</h2>
      <p className="reading-soft">{translate('reading.strays-note')}</p>
      <ul>
        {strays.map((stray) => (
          <li key={`${stray.eye} ${stray.offset_ih.join(' ')}`} className={`reading-stray-${stray.eye}`}>
            {formatStray(stray)}
          </li>
        ))}
      </ul>
    </section>
  );
}
