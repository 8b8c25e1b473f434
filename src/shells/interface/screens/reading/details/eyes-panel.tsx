/** Which eye's picture each lens passes, and how strong the other one's ghost is. */
import type { MeasuredReading } from '../../../../../record/reading.ts';
import { formatAssignment, formatAssignmentOfLens, formatEyeClass } from '../../../../../wording/eyes.ts';
import { formatVerdict } from '../../../../../wording/findings.ts';
import { decimalsForUncertainty, formatNumber } from '../../../../../wording/numbers.ts';
import { VerdictMark } from '../../../parts/verdict-mark.tsx';
import { translate } from '../../../../../wording/translate.ts';
import { chooseFinding } from './choose-finding.ts';
import { LensLight } from './lens-light.tsx';
import { Limits } from './limits.tsx';
import { placeLeak } from './tolerance-scale.ts';
import { type Eye, EYES } from '../../../../../kernel/eye.ts';

export function EyesPanel({ reading }: { readonly reading: MeasuredReading }) {
  const { matrix } = reading.eyes;
  return (
    <section className="reading-eyes">
      <h2>{translate('reading.eyes')}</h2>
      <p>{formatAssignment(reading.eyes.assignment)}</p>
      {matrix && <p>{formatEyeClass(matrix.class)}</p>}
      <div className="reading-lenses">
        {EYES.map((lens) => (
          <Lens key={lens} lens={lens} reading={reading} />
        ))}
      </div>
      <p className="reading-soft">{translate('reading.ghost-note')}</p>
    </section>
  );
}

function Lens({ lens, reading: { eyes, findings } }: { lens: Eye; reading: MeasuredReading }) {
  const { value, u } = lens === 'left' ? eyes.leak_left_lens_pct : eyes.leak_right_lens_pct;
  const decimals = decimalsForUncertainty(u);
  const judged = findings.filter(({ code }) => code === `crosstalk-${lens}`);
  const finding = chooseFinding(judged, null);
  const value_pct = formatNumber(value, decimals);
  return (
    <div className={`reading-lens reading-lens-${lens}`} data-lens={lens}>
      <h3>{translate('reading.lens', { lens })}</h3>
      <p>{formatAssignmentOfLens(eyes.assignment, lens)}</p>
      <p className="reading-value">
        <b>{value_pct}&#8239;%</b>
        <span className="reading-soft">± {formatNumber(2 * u, decimals)}</span>
        {finding && (
          <span className="reading-verdict">
            <VerdictMark verdict={finding.verdict} isShapeOnly />
            <span aria-hidden="true">{formatVerdict(finding)}</span>
          </span>
        )}
      </p>
      <LeakScale
        leak_pct={value}
        limit_pct={finding?.limit}
        label={translate('reading.ghost-scale', { percent: value_pct })}
      />
      {finding && <Limits finding={finding} all={judged} />}
      {eyes.matrix && <LensLight matrix={eyes.matrix} lens={lens} />}
    </div>
  );
}

interface LeakScaleProps {
  readonly leak_pct: number;
  readonly limit_pct: number | undefined;
  readonly label: string;
}

function LeakScale({ leak_pct, limit_pct, label }: LeakScaleProps) {
  const x = (pct: number) => Math.round(240 * placeLeak(pct));
  return (
    <svg className="reading-leak" viewBox="-10 0 262 34" role="img" aria-label={label}>
      <path className="reading-bar-axis" d="M0 11H240" />
      <rect className="reading-leak-bar" x="0" y="7" width={x(leak_pct)} height="8" />
      {[0.1, 1, 10, 100].map((pct) => (
        <g key={pct}>
          <path className="reading-bar-axis" d={`M${x(pct)} 5V17`} />
          <text x={x(pct)} y="31" textAnchor="middle">
            {pct}
          </text>
        </g>
      ))}
      {limit_pct !== undefined && <path className="reading-bar-value" d={`M${x(limit_pct)} 1V21`} />}
    </svg>
  );
}
