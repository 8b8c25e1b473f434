/** What else there is to know: warnings, causes with their checks, steadiness and marks, cautions. */
import type { MeasuredReading, ReadingCause } from '../../../../../record/reading.ts';
import { wordCause, wordEvidence } from '../../../../../report/wording/causes.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from '../../../../../report/wording/numbers.ts';
import { Notice } from '../../../parts/notice.tsx';
import { say } from '../../../wording/say.ts';

export function Warnings({ reading: { warnings } }: { readonly reading: MeasuredReading }) {
  if (warnings.length === 0) return null;
  return (
    <section className="reading-warnings">
      <h2>{say('reading.warnings')}</h2>
      {warnings.map(({ code, message }) => (
        <Notice key={code} kind="note" message={message} />
      ))}
    </section>
  );
}

export function Causes({ reading: { causes } }: { readonly reading: MeasuredReading }) {
  if (causes.length === 0) return null;
  return (
    <section className="reading-causes">
      <h2>{say('reading.causes')}</h2>
      <p className="reading-soft">{say('reading.causes-order')}</p>
      <ol>
        {causes.map((cause, place) => (
          // The same fault may be there for either eye.
          <Cause key={`${cause.code} ${place}`} cause={cause} />
        ))}
      </ol>
    </section>
  );
}

function Cause({ cause }: { readonly cause: ReadingCause }) {
  const evidence = cause.evidence.map(wordEvidence).filter((words) => words !== null);
  return (
    <li>
      <p>
        <b>{wordCause(cause)}</b>
      </p>
      <p>{cause.check}</p>
      {evidence.length > 0 && (
        <p className="reading-soft">{say('reading.cause-evidence', { evidence: evidence.join('; ') })}</p>
      )}
    </li>
  );
}

export function Steadiness({ reading: { steadiness, marks, evidence } }: { readonly reading: MeasuredReading }) {
  const { blur_px } = evidence;
  return (
    <section>
      <h2>{say('reading.steadiness')}</h2>
      <dl className="reading-facts">
        <dt>{say('reading.movement')}</dt>
        <dd>
          {steadiness === null
            ? say('reading.movement-unknown')
            : say('reading.movement-value', {
                px: formatNumber(steadiness.movement_px.value, decimalsForUncertainty(steadiness.movement_px.u)),
                u2: formatNumber(2 * steadiness.movement_px.u, decimalsForUncertainty(steadiness.movement_px.u)),
              })}
        </dd>
        <dt>{say('reading.marks')}</dt>
        <dd>
          {say('reading.marks-count', {
            left: marks.left,
            leftOf: marks.expected_left,
            right: marks.right,
            rightOf: marks.expected_right,
          })}
        </dd>
        <dt>{say('reading.blur')}</dt>
        <dd>
          {say('reading.blur-value', {
            left: formatFigures(blur_px['left-lens']),
            right: formatFigures(blur_px['right-lens']),
          })}
        </dd>
      </dl>
    </section>
  );
}

export function Cautions({ reading: { cautions } }: { readonly reading: MeasuredReading }) {
  return (
    <section className="reading-cautions">
      <h2>{say('reading.cautions')}</h2>
      <ul>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </section>
  );
}
