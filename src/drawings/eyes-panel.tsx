/** Which eye's picture each lens passes, how strong the other one's ghost is, and where in the picture. */
import type { ReactNode } from 'react';
import { type Eye, EYES } from '../kernel/eye.ts';
import type { MeasuredReading, ReadingFinding } from '../record/reading.ts';
import { formatAssignment, formatAssignmentOfLens, formatEyeClass } from '../wording/eyes.ts';
import { formatVerdict } from '../wording/findings.ts';
import { decimalsForUncertainty, formatNumber } from '../wording/numbers.ts';
import { translate } from '../wording/translate.ts';
import { GhostScale } from './tolerance-bar.tsx';
import { VerdictMark } from './verdict-mark.tsx';

type Matrix = NonNullable<MeasuredReading['eyes']['matrix']>;

export interface EyesPanelProps {
  readonly reading: MeasuredReading;
  /** The limit that each lens is shown against. */
  readonly findingOf: (lens: Eye) => ReadingFinding | undefined;
  /** What else is said of the limit, below the scale. */
  readonly limits: (lens: Eye, finding: ReadingFinding) => ReactNode;
}

export function EyesPanel({ reading, findingOf, limits }: EyesPanelProps) {
  const { eyes } = reading;
  const { assignment, matrix } = eyes;
  if (assignment === 'not-looked-at') return <p>{formatAssignment(assignment)}</p>;
  return (
    <>
      <p>{formatAssignment(assignment)}</p>
      {matrix && <p>{formatEyeClass(matrix.class)}</p>}
      <div className="lenses">
        {EYES.map((lens) => (
          <LensPanel key={lens} lens={lens} eyes={eyes as ExaminedEyes} findingOf={findingOf} limits={limits} />
        ))}
      </div>
      <p className="soft">{translate('reading.ghost-note')}</p>
    </>
  );
}

/** Somebody looked through the glasses. */
type ExaminedEyes = Exclude<MeasuredReading['eyes'], { assignment: 'not-looked-at' }>;

interface LensPanelProps extends Omit<EyesPanelProps, 'reading'> {
  readonly lens: Eye;
  readonly eyes: ExaminedEyes;
}

function LensPanel({ lens, eyes, findingOf, limits }: LensPanelProps) {
  const { value, u } = lens === 'left' ? eyes.leak_left_lens_pct : eyes.leak_right_lens_pct;
  const decimals = decimalsForUncertainty(2 * u);
  const finding = findingOf(lens);
  const percent = formatNumber(value, decimals);
  return (
    <div className={`lens lens-${lens}`} data-lens={lens}>
      <h3>{translate('reading.lens', { lens })}</h3>
      <p>{formatAssignmentOfLens(eyes.assignment, lens)}</p>
      <p className="term-figure">
        <b>{percent}&#8239;%</b>
        <span className="soft">± {formatNumber(2 * u, decimals)}</span>
        {finding && <VerdictMark verdict={finding.verdict} words={formatVerdict(finding)} />}
      </p>
      <GhostScale
        crosstalk_pct={value}
        limit_pct={finding?.limit}
        label={translate('reading.ghost-scale', { percent })}
      />
      {finding && limits(lens, finding)}
      {eyes.matrix && <Strengths matrix={eyes.matrix} lens={lens} />}
      {eyes.matrix && <GhostMap matrix={eyes.matrix} lens={lens} />}
    </div>
  );
}

interface LensLightProps {
  readonly matrix: Matrix;
  readonly lens: Eye;
}

/** What one lens lets through: both pictures' strengths as bars. */
function Strengths({ matrix, lens }: LensLightProps) {
  const strengths = lens === 'left' ? matrix.left_lens : matrix.right_lens;
  return (
    <>
      <p className="strengths-what">{translate('reading.strengths')}</p>
      <dl className="strengths">
        {EYES.map((eye) => {
          const { value, u } = eye === 'left' ? strengths.left_picture_pct : strengths.right_picture_pct;
          return (
            <div key={eye} data-eye={eye}>
              <dt>{translate('reading.strength', { eye })}</dt>
              <dd>
                <svg viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
                  <path d="M0 4H100" stroke="var(--line)" />
                  <rect width={Math.min(100, Math.max(0.8, value))} height="8" fill={`var(--${eye})`} />
                </svg>
                <span>{formatNumber(value, Math.min(1, decimalsForUncertainty(2 * u)))}&#8239;%</span>
              </dd>
            </div>
          );
        })}
      </dl>
    </>
  );
}

/** A table in the shape of the picture: the ghost's strength in each place, and the shade that goes with it. */
function GhostMap({ matrix: { map }, lens }: LensLightProps) {
  const cells = lens === 'left' ? map.left_lens_pct : map.right_lens_pct;
  const strongest = Math.max(...[...map.left_lens_pct, ...map.right_lens_pct].map((cell) => cell?.value ?? 0), 1e-9);
  const rows = Array.from({ length: map.rows }, (_, r) => cells.slice(r * map.columns, (r + 1) * map.columns));
  return (
    <table className="ghost-map">
      <caption>{translate('reading.leak-map')}</caption>
      <tbody>
        {rows.map((row, r) => (
          <tr key={r}>
            {row.map((cell, c) => (
              <td
                key={c}
                data-shade={cell === null ? undefined : Math.round((4 * Math.max(0, cell.value)) / strongest)}
              >
                {cell === null ? translate('reading.leak-unknown') : formatNumber(Math.max(0, cell.value), 1)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
