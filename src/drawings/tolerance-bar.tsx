/** A value against its limit: the band between the limits of a term, the logarithmic scale of a ghost. */
import { scaleLinear, scaleLog } from 'd3-scale';

const WIDTH = 160;
const HEIGHT = 22;
const MARGIN = 6;
const MIDDLE = HEIGHT / 2;
/** The scale reaches at most so many limits; what lies beyond is drawn as an arrow. */
const MAX_LIMITS = 4;

export interface ToleranceBarProps {
  readonly value: number;
  /** Standard uncertainty of the value. */
  readonly u: number;
  readonly limit: number;
  /** The limit on the other side is another one and is not drawn. */
  readonly isOneSided: boolean;
  /** What the drawing says, for readers who do not see it. */
  readonly label: string;
}

/** The band is what is allowed, the upright stroke the value, the lying one its 95 % interval. */
export function ToleranceBar({ value, u, limit, isOneSided, label }: ToleranceBarProps) {
  const span = Math.min(MAX_LIMITS * limit, Math.max(1.6 * limit, 1.12 * (Math.abs(value) + 2 * u)));
  const scale = scaleLinear([-span, span], [MARGIN, WIDTH - MARGIN]).clamp(true);
  const x = (v: number) => round(scale(v));
  const low = x(isOneSided && value >= 0 ? 0 : -limit);
  const high = x(isOneSided && value < 0 ? 0 : limit);
  return (
    <svg className="tolerance-bar" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={label}>
      <rect x={low} y="5" width={round(high - low)} height="12" fill="var(--line)" />
      <path
        d={`M${MARGIN} ${MIDDLE}H${WIDTH - MARGIN}M${x(0)} ${MIDDLE - 3}V${MIDDLE + 3}`}
        fill="none"
        stroke="var(--edge)"
      />
      <path d={`M${low} 2.5V19.5M${high} 2.5V19.5`} fill="none" stroke="var(--soft)" strokeWidth="1.3" />
      {Math.abs(value) > span ? (
        <path d={`M${x(value)} ${MIDDLE}l${value > 0 ? -8 : 8} -6v12Z`} fill="var(--ink)" />
      ) : (
        <path
          d={`M${x(value - 2 * u)} ${MIDDLE}H${x(value + 2 * u)}M${x(value)} 2V20`}
          fill="none"
          stroke="var(--ink)"
          strokeWidth="2.6"
        />
      )}
    </svg>
  );
}

const DECADES_PCT = [0.1, 1, 10, 100];

export interface GhostScaleProps {
  readonly crosstalk_pct: number;
  readonly limit_pct: number | undefined;
  readonly label: string;
}

/** A ghost's strength from 0.1 to 100 %, logarithmic because ghosts span three decades; the limit as a stroke. */
export function GhostScale({ crosstalk_pct, limit_pct, label }: GhostScaleProps) {
  const scale = scaleLog([0.1, 100], [0, 240]).clamp(true);
  const x = (pct: number) => Math.round(scale(Math.max(pct, 0.1)));
  return (
    <svg className="ghost-scale" viewBox="-10 0 262 34" role="img" aria-label={label}>
      <path d="M0 11H240" stroke="var(--edge)" />
      <rect x="0" y="7" width={x(crosstalk_pct)} height="8" fill="var(--lens, var(--ink))" />
      {DECADES_PCT.map((pct) => (
        <g key={pct}>
          <path d={`M${x(pct)} 5V17`} stroke="var(--edge)" />
          <text x={x(pct)} y="31" textAnchor="middle" fontSize="11" fill="var(--soft)">
            {pct}
          </text>
        </g>
      ))}
      {limit_pct !== undefined && <path d={`M${x(limit_pct)} 1V21`} stroke="var(--ink)" strokeWidth="2.6" />}
    </svg>
  );
}

const round = (value: number) => Math.round(100 * value) / 100;
