/** What one lens lets through: both pictures' strengths as bars, and how strong the ghost is over the picture. */
import type { MeasuredReading } from '../../../../../record/reading.ts';
import { decimalsForUncertainty, formatNumber } from '../../../../../wording/numbers.ts';
import { translate } from '../../../../../wording/translate.ts';
import { type Eye, EYES } from '../../../../../kernel/eye.ts';

type Matrix = NonNullable<MeasuredReading['eyes']['matrix']>;

export interface LensLightProps {
  readonly matrix: Matrix;
  readonly lens: Eye;
}

export function LensLight({ matrix, lens }: LensLightProps) {
  const strengths = lens === 'left' ? matrix.left_lens : matrix.right_lens;
  return (
    <>
      <p className="reading-strengths-what">{translate('reading.strengths')}</p>
      <dl className="reading-strengths">
        {EYES.map((eye) => {
          const { value, u } = eye === 'left' ? strengths.left_picture_pct : strengths.right_picture_pct;
          return (
            <div key={eye} data-eye={eye}>
              <dt>{translate('reading.strength', { eye })}</dt>
              <dd>
                <svg viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
                  <path className="reading-strength-ground" d="M0 4H100" />
                  <rect className={`reading-strength-${eye}`} width={Math.min(100, Math.max(0.8, value))} height="8" />
                </svg>
                <span className="reading-strength-value">
                  {formatNumber(value, Math.min(1, decimalsForUncertainty(u)))}&#8239;%
                </span>
              </dd>
            </div>
          );
        })}
      </dl>
      <LeakMap matrix={matrix} lens={lens} />
    </>
  );
}

/** A table in the shape of the picture: the number in each place, and the shade that goes with it. */
function LeakMap({ matrix: { map }, lens }: LensLightProps) {
  const cells = lens === 'left' ? map.left_lens_pct : map.right_lens_pct;
  const strongest = Math.max(...[...map.left_lens_pct, ...map.right_lens_pct].map((cell) => cell?.value ?? 0), 1e-9);
  const rows = Array.from({ length: map.rows }, (_, r) => cells.slice(r * map.columns, (r + 1) * map.columns));
  return (
    <table className="reading-leak-map">
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
