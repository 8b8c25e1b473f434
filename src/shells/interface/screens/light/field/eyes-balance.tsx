/** What the two eyes get: the brighter one as a whole, the other as a part of it, and their colours. */
import type { MeasuredEvennessRecord } from '../../../../../record/evenness.ts';
import type { LightPlace } from '../../../../../record/light-finding.ts';
import { formatPercent, namePlace } from '../../../../../wording/light.ts';
import { translate } from '../../../../../wording/translate.ts';

type Balance = NonNullable<MeasuredEvennessRecord['balance']>;

export function EyesBalance({ balance }: { readonly balance: Balance }) {
  const { right_over_left_pct: ratio, places_pct, colour } = balance;
  const places = Object.entries(places_pct) as [LightPlace, { value: number; u: number }][];
  const least = places.reduce((a, b) => (b[1].value < a[1].value ? b : a));
  const most = places.reduce((a, b) => (b[1].value > a[1].value ? b : a));
  const shares = { left: 100 / Math.max(100, ratio.value), right: ratio.value / Math.max(100, ratio.value) };
  return (
    <section className="light-section" aria-labelledby="light-eyes">
      <h2 id="light-eyes">{translate('light.eyes')}</h2>
      <div className="light-eyes" aria-hidden="true">
        {(['left', 'right'] as const).map((eye) => (
          <span key={eye} className={`light-eye light-eye-${eye}`}>
            <span>{translate(`light.eye-${eye}`)}</span>
            <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
              <rect className="light-eye-whole" width="100" height="10" />
              <rect className="light-eye-part" width={100 * shares[eye]} height="10" />
            </svg>
          </span>
        ))}
      </div>
      <p>
        {translate('light.eyes-ratio', {
          ratio: formatPercent(ratio),
          least: formatPercent(least[1]),
          leastPlace: namePlace(least[0]),
          most: formatPercent(most[1]),
          mostPlace: namePlace(most[0]),
        })}
      </p>
      <p className="light-soft">
        {colour
          ? translate('light.eyes-colour', { red: formatPercent(colour.red_pct), blue: formatPercent(colour.blue_pct) })
          : translate('light.eyes-no-colour')}
      </p>
    </section>
  );
}
