/** What else there is to know: warnings, steadiness and marks, cautions. */
import type { MeasuredReading } from '../../../../../record/reading.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from '../../../../../wording/numbers.ts';
import { formatStray } from '../../../../../wording/eyes.ts';
import { translate } from '../../../../../wording/translate.ts';
import { Notice } from '../../../parts/notice.tsx';

export function Warnings({ reading: { warnings } }: { readonly reading: MeasuredReading }) {
  if (warnings.length === 0) return null;
  return (
    <section className="reading-warnings">
      <h2>{translate('reading.warnings')}</h2>
      {warnings.map(({ code, message }) => (
        <Notice key={code} kind="note" message={message} />
      ))}
    </section>
  );
}

export function Steadiness({ reading }: { readonly reading: MeasuredReading }) {
  const { steadiness, marks, evidence, strays } = reading;
  const { blur_px } = evidence;
  return (
    <section>
      <h2>{translate('reading.steadiness')}</h2>
      <dl className="reading-facts">
        <dt>{translate('reading.movement')}</dt>
        <dd>
          {steadiness === null
            ? translate('reading.movement-unknown')
            : translate('reading.movement-value', {
                px: formatNumber(steadiness.movement_px.value, decimalsForUncertainty(2 * steadiness.movement_px.u)),
                u2: formatNumber(2 * steadiness.movement_px.u, decimalsForUncertainty(2 * steadiness.movement_px.u)),
              })}
        </dd>
        <dt>{translate('reading.marks')}</dt>
        <dd>
          {translate('reading.marks-count', {
            left: marks.left,
            leftOf: marks.expected_left,
            right: marks.right,
            rightOf: marks.expected_right,
          })}
        </dd>
        <dt>{translate('reading.blur')}</dt>
        <dd>
          {Object.entries(blur_px)
            .map(([role, blur]) =>
              translate('reading.blur-value', { role: role.replace('-lens', ''), blur: formatFigures(blur) }),
            )
            .join(', ')}
        </dd>
        {strays?.length === 0 && (
          <>
            <dt>{translate('reading.strays')}</dt>
            <dd>{translate('reading.strays-none')}</dd>
          </>
        )}
      </dl>
    </section>
  );
}

export function Cautions({ cautions }: { readonly cautions: readonly string[] }) {
  if (cautions.length === 0) return null;
  return (
    <section className="reading-cautions">
      <h2>{translate('reading.cautions')}</h2>
      <ul>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </section>
  );
}

/** Weak displaced copies of the pictures: whose, where, how strong. */

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
