/** A value with its 95 % interval against its limits: the band is what is allowed, the strokes are what was found. */
import type { ReadingFinding } from '../../../../../record/reading.ts';
import { formatFinding } from '../../../../../wording/findings.ts';
import { layOutTolerance } from './tolerance-scale.ts';

const WIDTH = 160;
const HEIGHT = 22;
const MARGIN = 6;
const MIDDLE = HEIGHT / 2;

export function ToleranceBar({ finding }: { readonly finding: ReadingFinding }) {
  const { value, u, limit, code } = finding;
  const scale = layOutTolerance(value, u, limit, code === 'horizontal-offset');
  const x = (share: number) => Math.round(100 * (MARGIN + share * (WIDTH - 2 * MARGIN))) / 100;
  const tip = x(scale.value);
  return (
    <svg className="reading-bar" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={formatFinding(finding)}>
      <rect className="reading-bar-band" x={x(scale.low)} y="5" width={x(scale.high) - x(scale.low)} height="12" />
      <path className="reading-bar-axis" d={`M${MARGIN} ${MIDDLE}H${WIDTH - MARGIN}M${x(0.5)} 8V14`} />
      <path className="reading-bar-limit" d={`M${x(scale.low)} 2.5V19.5M${x(scale.high)} 2.5V19.5`} />
      {scale.isBeyond ? (
        <path className="reading-bar-tip" d={`M${tip} ${MIDDLE}l${value > 0 ? -8 : 8} -6v12Z`} />
      ) : (
        <path className="reading-bar-value" d={`M${x(scale.from)} ${MIDDLE}H${x(scale.to)}M${tip} 2V20`} />
      )}
    </svg>
  );
}
