/** Each photograph's ghost against its turn with its 95 % bar, the fitted curve, and the null where the curve is lowest. */
import type { FoundNullSearch } from '../../../../record/null-search.ts';
import { formatLeak } from '../../../../wording/polarizers.ts';
import { formatGiven, formatNumber } from '../../../../wording/numbers.ts';
import { translate } from '../../../../wording/translate.ts';
import { ticksBetween } from '../../../../drawings/scale.ts';

const [WIDTH, HEIGHT] = [760, 360];
const [LEFT, RIGHT, TOP, FOOT] = [74, 20, 34, 300];

export function NullCurve({ search }: { readonly search: FoundNullSearch }) {
  const { curve, shots, least_leak_pct } = search;
  const frame = frameCurve(search);
  const x = (turn: number) => LEFT + frame.placeX(turn) * (WIDTH - LEFT - RIGHT);
  const y = (leak_pct: number) => FOOT - frame.placeY(leak_pct) * (FOOT - TOP);
  const unit = curve.unit === 'deg' ? '°' : '';
  const nullX = x(curve.null_at);
  const isRight = nullX > WIDTH - 190;
  return (
    <figure className="polarizers-figure">
      <svg className="polarizers-curve" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={formatCurve(search)}>
        {frame.yTicks.map((tick) => (
          <g key={tick}>
            <path className="polarizers-grid" d={`M${LEFT} ${y(tick)}H${WIDTH - RIGHT}`} />
            <text className="polarizers-tick polarizers-tick-y" x={LEFT - 10} y={y(tick) + 5}>
              {formatGiven(tick)} %
            </text>
          </g>
        ))}
        {frame.xTicks.map((tick) => (
          <g key={tick}>
            <path className="polarizers-grid" d={`M${x(tick)} ${FOOT}v6`} />
            <text className="polarizers-tick polarizers-tick-x" x={x(tick)} y={FOOT + 24}>
              {formatGiven(curve.unit === 'steps' ? tick + 1 : tick)}
              {unit}
            </text>
          </g>
        ))}
        <text className="polarizers-tick polarizers-tick-x" x={(LEFT + WIDTH - RIGHT) / 2} y={HEIGHT - 8}>
          {translate(`polarizers.axis-${curve.unit}`)}
        </text>
        <path className="polarizers-null" d={`M${nullX} ${TOP - 8}V${FOOT}`} />
        <path className="polarizers-null-mark" d={`M${nullX} ${FOOT}l-8 12h16Z`} />
        <text
          className={`polarizers-null-word${isRight ? ' polarizers-null-word-right' : ''}`}
          x={nullX + (isRight ? -9 : 9)}
          y={TOP - 14}
        >
          {formatNull(search)}
        </text>
        <clipPath id="polarizers-plot">
          <rect x={LEFT} y={TOP - 6} width={WIDTH - LEFT - RIGHT} height={FOOT - TOP + 6} />
        </clipPath>
        <path
          clipPath="url(#polarizers-plot)"
          className="polarizers-fit"
          d={curve.points.map(([turn, leak], i) => `${i === 0 ? 'M' : 'L'}${x(turn)} ${y(leak)}`).join('')}
        />
        {shots.map(({ file, leak_pct: { value, u } }, i) => {
          const at = x(turnOf(search, i));
          const [low, high] = [y(value - 2 * u), y(value + 2 * u)];
          return (
            <g key={`${i} ${file}`}>
              <path className="polarizers-bar" d={`M${at} ${low}V${high}M${at - 6} ${low}h12M${at - 6} ${high}h12`} />
              <circle className="polarizers-point" cx={at} cy={y(value)} r="6" />
              {i === shots.length - 1 && <circle className="polarizers-now" cx={at} cy={y(value)} r="12" />}
            </g>
          );
        })}
      </svg>
      <figcaption className="polarizers-key">
        <span>
          <svg viewBox="0 0 16 16" aria-hidden="true">
            <circle className="polarizers-point" cx="8" cy="8" r="5" />
          </svg>
          {translate('polarizers.key-measured')}
        </span>
        <span>
          <svg viewBox="0 0 16 16" aria-hidden="true">
            <circle className="polarizers-point" cx="8" cy="8" r="3" />
            <circle className="polarizers-now" cx="8" cy="8" r="7" />
          </svg>
          {translate('polarizers.key-now')}
        </span>
        <span>
          <svg viewBox="0 0 16 16" aria-hidden="true">
            <path className="polarizers-fit" d="M0 4Q8 20 16 4" />
          </svg>
          {translate('polarizers.key-fit')}
        </span>
        <span>{translate('polarizers.key-left', { leak: formatLeak(least_leak_pct) })}</span>
      </figcaption>
    </figure>
  );
}

function formatNull({ curve, null_deg, further_steps }: FoundNullSearch): string {
  if (null_deg) {
    return translate('polarizers.null-deg', {
      at: formatNumber(null_deg.value, 1),
      u: formatNumber(2 * null_deg.u, 1),
    });
  }
  return translate('polarizers.null-steps', {
    at: formatNumber(curve.null_at + 1, 2),
    u: formatNumber(2 * (further_steps?.u ?? 0), 2),
  });
}

function formatCurve(search: FoundNullSearch): string {
  const points = search.shots.map(({ leak_pct: { value } }, i) =>
    translate(`polarizers.point-${search.curve.unit}`, {
      turn: formatGiven(search.curve.unit === 'steps' ? i + 1 : turnOf(search, i)),
      leak: formatNumber(value, 2),
    }),
  );
  return translate('polarizers.curve-name', { lens: search.lens, points: points.join('; '), null: formatNull(search) });
}

/** The frame in which ghosts are drawn against turns: scales, ticks, and where the null stands. */
interface CurveFrame {
  readonly xTicks: readonly number[];
  readonly yTicks: readonly number[];
  /** 0 at the left of the plot, 1 at its right. */
  readonly placeX: (turn: number) => number;
  /** 0 at the foot, 1 at the top; a curve may climb beyond it. */
  readonly placeY: (leak_pct: number) => number;
}

type Drawn = Pick<FoundNullSearch, 'shots' | 'curve'>;

/** A photograph's place on the scale of the turns. */
export function turnOf({ curve, shots }: Drawn, index: number): number {
  return curve.unit === 'deg' ? shots[index]!.turn_deg! : index;
}

export function frameCurve(search: Drawn): CurveFrame {
  const { curve, shots } = search;
  const turns = [...curve.points.map(([turn]) => turn), ...shots.map((_, i) => turnOf(search, i)), curve.null_at];
  const [left, right] = [Math.min(...turns), Math.max(...turns)];
  const tops = shots.map(({ leak_pct: { value, u } }) => value + 2 * u);
  const feet = shots.map(({ leak_pct: { value, u } }) => value - 2 * u);
  // The curve may climb far above all that was measured where the null lies beyond the turns.
  const max = Math.max(...tops) * 1.05;
  const min = Math.min(0, ...feet);
  const y = ticksBetween(min, max, 4);
  const [low, high] = [Math.min(min, y[0]!), Math.max(max, y.at(-1)!)];
  return {
    xTicks: ticksBetween(left, right, 6).filter((turn) => curve.unit === 'deg' || Number.isInteger(turn)),
    yTicks: y,
    placeX: (turn) => (turn - left) / (right - left || 1),
    placeY: (leak) => (leak - low) / (high - low || 1),
  };
}
