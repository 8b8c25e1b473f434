/** What can hurt, right where the hands are sent. */
import { translate } from '../../../wording/translate.ts';

export function Cautions({ cautions }: { readonly cautions: readonly string[] }) {
  if (cautions.length === 0) return null;
  return (
    <aside className="cautions" aria-labelledby="cautions">
      <h2 id="cautions">
        <svg viewBox="0 0 20 20" aria-hidden="true">
          <path d="M10 2.5 18.2 17.5H1.8Z" fill="none" stroke="currentColor" strokeWidth="1.8" strokeLinejoin="round" />
          <path d="M10 8v4.6M10 14v1.8" stroke="currentColor" strokeWidth="1.8" />
        </svg>
        {translate('cautions.before-you-touch')}
      </h2>
      <ul>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </aside>
  );
}
