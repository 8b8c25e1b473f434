/** The two photographs of an entry, each marked as the lens it was taken through. */
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { EntryShot } from '../../../../record/entry.ts';
import { translate } from '../../../../wording/translate.ts';

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
