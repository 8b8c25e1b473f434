/** What was judged against a limit, each with its source and the flag that the source carries. */
import type { RecordedLightFinding } from '../../../../record/light-finding.ts';
import {
  nameLightFinding,
  shortenLitPicture,
  formatLightFinding,
  formatLightSource,
  formatLightVerdict,
} from '../../../../wording/light.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { translate } from '../../../../wording/translate.ts';

export function LightFindings({ findings }: { readonly findings: readonly RecordedLightFinding[] }) {
  const areSeveral = new Set(findings.map(({ picture }) => picture)).size > 1;
  return (
    <section className="light-section" aria-labelledby="light-limits">
      <h2 id="light-limits">{translate('light.limits')}</h2>
      <ul className="light-findings">
        {findings.map((finding) => (
          <li key={`${finding.code} ${finding.picture}`}>
            <VerdictMark verdict={finding.verdict} isShapeOnly />
            <span>
              <strong>
                {nameLightFinding(finding.code)}
                {areSeveral && finding.picture !== null && `, ${shortenLitPicture(finding.picture)}`}
              </strong>
              <span>
                {translate('light.found', {
                  found: formatLightFinding(finding),
                  verdict: formatLightVerdict(finding.verdict),
                })}
              </span>
              <span className="light-soft">{formatLightSource(finding.source, finding.basis)}</span>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
