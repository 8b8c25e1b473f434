/** Weak displaced copies of the pictures: whose, where, how strong. */
import type { MeasuredReading } from '../../../../../record/reading.ts';
import { wordStray } from '../../../../../report/wording/strays.ts';
import { say } from '../../../wording/say.ts';

export function StraysPanel({ reading: { strays = [] } }: { readonly reading: MeasuredReading }) {
  if (strays.length === 0) return null;
  return (
    <section className="reading-strays">
      <h2>{say('reading.strays')}</h2>
      <p className="reading-soft">{say('reading.strays-note')}</p>
      <ul>
        {strays.map((stray) => (
          <li key={`${stray.eye} ${stray.offset_ih.join(' ')}`} className={`reading-stray-${stray.eye}`}>
            {wordStray(stray)}
          </li>
        ))}
      </ul>
    </section>
  );
}
